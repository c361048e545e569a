# Prints the failed cases of a Catch2 XML report: where, what was asked and what was found.
function plain(text) {
  gsub(/&lt;/, "<", text); gsub(/&gt;/, ">", text); gsub(/&quot;/, "\"", text); gsub(/&amp;/, "\\&", text)
  sub(/^ +/, "", text); sub(/ +$/, "", text)
  return text
}
function attribute(line, name) {
  if (!match(line, " " name "=\"[^\"]*\"")) return ""
  return plain(substr(line, RSTART + length(name) + 3, RLENGTH - length(name) - 4))
}
/<TestCase / { title = attribute($0, "name"); place = attribute($0, "filename") ":" attribute($0, "line"); said = "" }
/<(Expression|Failure|Exception|FatalErrorCondition)[ >]/ {
  kind = $1; sub(/^</, "", kind); sub(/>.*/, "", kind)
  bad = (kind != "Expression") || (attribute($0, "success") == "false")
  if (bad) said = said "  " attribute($0, "filename") ":" attribute($0, "line") ": " kind "\n"
  next
}
/<\/(Expression|Failure|Exception|FatalErrorCondition)>/ { bad = 0; next }
/<Info>/ { inside_info = 1; next }
/<\/Info>/ { inside_info = 0; next }
(bad && !/^ *<\/?(Original|Expanded)>/ || inside_info) && NF { said = said "    " plain($0) "\n" }
/<OverallResult success="false"/ { printf "%s: %s\n%s", place, title, said == "" ? "  no assertion\n" : said }
