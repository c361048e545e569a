// Writes a plan as the TOML text that reads as the same plan again.
#include <array>
#include <charconv>

#include "rules/plans/checks.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch::rules {
namespace {

constexpr std::string_view kHeader =
    "# An ageing plan: parts counted from events, stages with target and band, cares with a cadence.\n"
    "# Temperatures in degrees Celsius, humidity in percent, a wash's salt in grams to 100 g of the finished liquid.\n"
    "# Each figure says where it comes from. Days count from the day of the part's start, which is day 0.\n\n";

// The shortest digits that read as the same number; a negative nothing is nothing.
std::string Written(double value) {
  std::array<char, 32> digits;
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value + 0.0).ptr;
  return {digits.data(), end};
}

// As a basic string of TOML.
std::string Written(std::string_view text) {
  std::string written = "\"";
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      written.append({'\\', c});
    } else if (c == '\n') {
      written += "\\n";
    } else if (c == '\t') {
      written += "\\t";
    } else if (code < 0x20 || code == 0x7f) {
      constexpr std::string_view kDigits = "0123456789abcdef";
      written.append("\\u00").append({kDigits[code >> 4U], kDigits[code & 0xfU]});
    } else {
      written += c;
    }
  }
  return written + '"';
}

std::string Written(const Figure& figure) {
  return "{ low = " + Written(figure.low) + ", high = " + Written(figure.high) +
         ", source = " + Written(std::string_view{figure.source}) + " }";
}

std::string Written(const std::vector<CareKind>& kinds) {
  std::string list;
  for (const CareKind kind : kinds) list += (list.empty() ? "" : ", ") + Written(ToText(kind));
  return "[" + list + "]";
}

// One to a line: they are sentences.
std::string Written(const std::vector<std::string>& texts) {
  std::string list = "[\n";
  for (const std::string& text : texts) list += "  " + Written(std::string_view{text}) + ",\n";
  return list + "]";
}

// Lives while one plan is written.
class Writer {
 public:
  explicit Writer(const Plan& plan) : text_(kHeader) { Write(plan); }
  std::string Take() { return std::move(text_); }

 private:
  void Line(std::string_view key, const std::string& value) { text_.append(key).append(" = ").append(value) += '\n'; }
  void Text(std::string_view key, std::string_view value) { Line(key, Written(value)); }
  void Number(std::string_view key, int value) { Line(key, std::to_string(value)); }
  void Maybe(std::string_view key, const std::string& value) {
    if (!value.empty()) Text(key, value);
  }
  void Maybe(std::string_view key, const std::optional<int>& value) {
    if (value) Number(key, *value);
  }
  void Maybe(std::string_view key, const std::optional<Figure>& value) {
    if (value) Line(key, Written(*value));
  }
  void Maybe(std::string_view key, const std::vector<std::string>& values) {
    if (!values.empty()) Line(key, Written(values));
  }

  void Write(const Plan& plan);
  void Write(const Part& part);
  void Write(const Branch& branch);
  void Write(const Stage& stage, const std::string& path);
  void Write(const Care& care, const std::string& path);
  void Write(const Cadence& cadence);
  void Write(const Wash& wash, const std::string& path);

  std::string text_;
};

std::string_view HardinessWord(int hardiness) {
  constexpr std::array<std::string_view, 4> kWords{"soft", "blue", "semi-hard", "hard"};
  return kWords.at(static_cast<std::size_t>(hardiness));
}

void Writer::Write(const Plan& plan) {
  Number("format", plan.format);
  Text("id", plan.id);
  Number("version", plan.version);
  Text("family", plan.family);
  Text("rind_words", plan.rind_words);
  Text("rind", ToText(plan.rind));
  Text("hardiness", HardinessWord(plan.hardiness));
  Maybe("ready_days", plan.ready_days);
  if (plan.ready_from != StartKind::kMade) Text("ready_from", ToText(plan.ready_from));
  Maybe("cautions", plan.cautions);
  for (const Part& part : plan.parts) Write(part);
}

void Writer::Write(const Part& part) {
  text_ += "\n[[parts]]\n";
  Text("start", ToText(part.start));
  Maybe("asked_from", part.asked_from);
  Maybe("question", part.question);
  Maybe("usual_days", part.usual_days);
  for (const Stage& stage : part.stages) Write(stage, "parts.stages");
  if (part.branch) Write(*part.branch);
}

void Writer::Write(const Branch& branch) {
  text_ += "\n[parts.branch]\n";
  Text("question", branch.question);
  Number("asked_from", branch.asked_from);
  Text("default_option", branch.default_option);
  for (const BranchOption& option : branch.options) {
    text_ += "\n[[parts.branch.options]]\n";
    Text("name", option.name);
    Maybe("ready_days", option.ready_days);
    for (const Stage& stage : option.stages) Write(stage, "parts.branch.options.stages");
  }
}

void Writer::Write(const Stage& stage, const std::string& path) {
  text_ += "\n[[" + path + "]]\n";
  Text("name", stage.name);
  Text("state", ToText(stage.state));
  Number("first_day", stage.first_day);
  Maybe("last_day", stage.last_day);
  if (!stage.counts) Line("counts", "false");
  Text("source", stage.source);
  Maybe("temperature_target", stage.temperature_target);
  Maybe("temperature_band", stage.temperature_band);
  Maybe("humidity_target", stage.humidity_target);
  Maybe("humidity_band", stage.humidity_band);
  for (const Care& care : stage.cares) Write(care, path + ".cares");
}

void Writer::Write(const Care& care, const std::string& path) {
  text_ += "\n[[" + path + "]]\n";
  Line("kinds", Written(care.kinds));
  if (!care.brings.empty()) Line("brings", Written(care.brings));
  Write(care.cadence);
  Maybe("tolerance", care.tolerance);
  Maybe("note", care.note);
  Text("source", care.source);
  Maybe("cautions", care.cautions);
  if (care.wash) Write(*care.wash, path + ".wash");
}

void Writer::Write(const Cadence& cadence) {
  if (const auto* every = std::get_if<EveryDays>(&cadence)) Number("every_days", every->days);
  if (const auto* weekly = std::get_if<TimesAWeek>(&cadence)) Number("times_a_week", weekly->times);
  if (const auto* once = std::get_if<OnceOnDay>(&cadence)) Number("once_on_day", once->day);
  if (std::holds_alternative<MorningAndEvening>(cadence)) Line("morning_and_evening", "true");
  if (std::holds_alternative<OnlyTogether>(cadence)) Line("only_together", "true");
}

void Writer::Write(const Wash& wash, const std::string& path) {
  text_ += "[" + path + "]\n";
  Line("salt", Written(wash.salt));
  Maybe("note", wash.note);
  for (const WashAddition& addition : wash.additions) {
    text_ += "[[" + path + ".additions]]\n";
    Text("name", addition.name);
    Line("ml_per_litre", Written(addition.ml_per_litre));
    Text("source", addition.source);
  }
}

}  // namespace

std::string WritePlan(const Plan& plan) { return Writer(plan).Take(); }

}  // namespace rindwatch::rules
