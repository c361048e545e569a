#include "daemon/plans/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "daemon/api/plan_changes.hpp"

namespace rindwatch {

namespace {

constexpr std::size_t kColumns = 72;

// Lives while one plan is put into words.
class Page {
 public:
  explicit Page(const Words& words) : words_(words) {}

  std::string Of(const rules::Plan& plan) {
    Line(0, words_.Say("shown.version",
                       {{"family", plan.family}, {"id", plan.id}, {"version", std::to_string(plan.version)}}));
    Line(0, plan.rind_words);
    if (plan.ready_days) {
      Line(0, words_.Say("shown.ready", {{"days", Span(*plan.ready_days)}, {"since", Since(plan.ready_from)}}));
    }
    for (const rules::Part& part : plan.parts) Add(part);
    if (!plan.cautions.empty()) text_ += "\n";
    for (const std::string& caution : plan.cautions) Warn(0, caution);
    return std::move(text_);
  }

 private:
  std::string Span(const rules::Figure& figure) const {
    std::string low = fmt::format("{:g}", figure.low);
    if (figure.low == figure.high) return low;
    return words_.Say("span", {{"low", low}, {"high", fmt::format("{:g}", figure.high)}});
  }
  std::string Since(rules::StartKind start) const { return words_.Say("since." + std::string(rules::ToText(start))); }

  // Broken between words; what follows stands under the text, not under its sign.
  void Line(std::size_t indent, const std::string& text) {
    std::size_t column = 0;
    std::string line(indent, ' ');
    column = indent;
    for (std::size_t from = 0; from < text.size();) {
      const std::size_t to = std::min(text.find(' ', from), text.size());
      const std::size_t length = to - from;
      if (column > indent && column + 1 + length > kColumns) {
        text_ += line + "\n";
        line.assign(indent + 2, ' ');
        column = indent + 2;
      } else if (column > indent && from > 0) {
        line += ' ';
        ++column;
      }
      line += text.substr(from, length);
      column += length;
      from = to + 1;
    }
    text_ += line + "\n";
  }

  // Each caution once, where it is first needed.
  void Warn(std::size_t indent, const std::string& caution) {
    if (warned_.insert(caution).second) Line(indent, "! " + caution);
  }

  void Add(const rules::Part& part) {
    text_ += "\n";
    std::string head = words_.Say("shown.part", {{"since", Since(part.start)}});
    if (part.asked_from) {
      head += " " + words_.Say("shown.asked", {{"question", part.question}, {"day", std::to_string(*part.asked_from)}});
    }
    if (const auto care = rules::BegunBy(part))
      head += " " + words_.Say("shown.begun", {{"care", KindsWords(words_, {*care})}});
    if (part.usual_days) head += " " + words_.Say("shown.usual", {{"days", Span(*part.usual_days)}});
    Line(0, head);
    for (const rules::Stage& stage : part.stages) Add(stage, 2);
    if (part.branch) Add(*part.branch);
  }

  void Add(const rules::Branch& branch) {
    Line(2, words_.Say("shown.choice", {{"question", branch.question},
                                        {"day", std::to_string(branch.asked_from)},
                                        {"option", branch.default_option}}));
    for (const rules::BranchOption& option : branch.options) {
      Line(2, option.ready_days
                  ? words_.Say("shown.road ready", {{"option", option.name}, {"days", Span(*option.ready_days)}})
                  : words_.Say("shown.road", {{"option", option.name}}));
      if (option.stages.empty()) Line(4, words_.Say("shown.ends"));
      for (const rules::Stage& stage : option.stages) Add(stage, 4);
    }
  }

  std::string Air(const std::optional<rules::Figure>& target, const std::optional<rules::Figure>& band,
                  std::string_view unit) const {
    if (!target && !band) return {};
    if (!band) return Span(*target) + std::string(unit);
    if (!target) return Span(*band) + std::string(unit);
    return words_.Say("shown.tolerated", {{"target", Span(*target) + std::string(unit)}, {"band", Span(*band)}});
  }

  void Add(const rules::Stage& stage, std::size_t indent) {
    const std::string first = std::to_string(stage.first_day);
    std::string head =
        stage.name + ": " +
        (stage.last_day ? words_.Say("plans.days of", {{"from", first}, {"to", std::to_string(*stage.last_day)}})
                        : words_.Say("plans.from day", {{"day", first}}));
    head += ", " + words_.Say("wheel." + std::string(rules::ToText(stage.state)));
    if (!stage.counts) head += ", " + words_.Say("shown.uncounted");
    Line(indent, head);
    std::string air = Air(stage.temperature_target, stage.temperature_band, " °C");
    const std::string humidity = Air(stage.humidity_target, stage.humidity_band, " %");
    if (!air.empty() && !humidity.empty()) air += ", ";
    if (!(air + humidity).empty()) Line(indent + 2, air + humidity);
    for (const rules::Care& care : stage.cares) Add(care, indent + 2);
  }

  // "wash, turn"; "salt, then brush, turn" of alternate kinds.
  std::string Asked(const rules::Care& care) const {
    std::string asked = KindsWords(words_, {care.kinds.front()});
    for (std::size_t i = 1; i < care.kinds.size(); ++i) {
      asked = words_.Say("shown.then", {{"first", asked}, {"then", KindsWords(words_, {care.kinds[i]})}});
    }
    return care.brings.empty() ? asked : asked + ", " + KindsWords(words_, care.brings);
  }

  void Add(const rules::Care& care, std::size_t indent) {
    std::string line = Asked(care) + ": " + CadenceWords(words_, care.cadence);
    if (care.tolerance) line += ", " + words_.Count("shown.waits", static_cast<std::size_t>(*care.tolerance));
    if (care.wash) line += ", " + words_.Say("shown.salt", {{"salt", Span(care.wash->salt)}});
    Line(indent, line);
    for (const std::string& caution : care.cautions) Warn(indent + 2, caution);
  }

  const Words& words_;
  std::string text_;
  std::set<std::string> warned_;
};

}  // namespace

std::string PlanWords(const Words& words, const rules::Plan& plan) { return Page(words).Of(plan); }

}  // namespace rindwatch
