# Prints the failures of a Catch2 XML report: where, in which case, what was asked and what was found.
function plain(text) {
  gsub(/&lt;/, "<", text); gsub(/&gt;/, ">", text); gsub(/&quot;/, "\"", text); gsub(/&amp;/, "\\&", text)
  sub(/^ +/, "", text); sub(/ +$/, "", text)
  return text
}
function attribute(line, name,   found) {
  if (!match(line, " " name "=\"[^\"]*\"")) return ""
  found = substr(line, RSTART + length(name) + 3, RLENGTH - length(name) - 4)
  return plain(found)
}
/<TestCase / { case_name = attribute($0, "name") }
/<Section / { section = attribute($0, "name") }
/<(Expression|Failure|Exception|FatalErrorCondition)[ >]/ {
  kind = $1; sub(/^</, "", kind); sub(/>.*/, "", kind)
  bad = (kind != "Expression") || (attribute($0, "success") == "false")
  if (bad) printf "%s:%s: %s\n  %s\n", attribute($0, "filename"), attribute($0, "line"), case_name, kind
  next
}
/<\/(Expression|Failure|Exception|FatalErrorCondition)>/ { bad = 0; next }
bad && !/^ *<\/?(Original|Expanded)>/ && NF { print "    " plain($0) }
