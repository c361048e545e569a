#include "daemon/book/judge_law.hpp"

#include <fmt/format.h>

#include "daemon/book/fields.hpp"
#include "daemon/book/law.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::QualifyingAge;

namespace {

const QualifyingAge& AgeOf(const Book& book, const WheelRow& wheel, const Beside& beside) {
  const auto age = beside.ages.find(wheel.id);
  if (age != beside.ages.end()) return age->second;
  throw ActFault{fmt::format("How many days of {} count is not known now.", book.WheelName(wheel)), "wheels",
                 "wheels whose days are known", std::to_string(wheel.id), "Try again in a minute."};
}

std::string DaysShort(const QualifyingAge& age) {
  std::string text = fmt::format("{} of {} days count", age.Counted(), age.of);
  if (age.missing > 0) text += fmt::format(", {} were too cold", age.missing);
  if (age.unproven > 0) text += fmt::format(", of {} nothing was recorded", age.unproven);
  if (age.earliest) text += fmt::format("; {} at the earliest", ToText(*age.earliest));
  return text;
}

void CheckVouch(const Book& book, const WheelRow& wheel, const rules::Vouch& vouch, const Beside& beside) {
  const auto* rule = book.RuleOf(wheel);
  if (!rule) {
    throw ActFault{fmt::format("{} has no rule to vouch for.", book.WheelName(wheel)), "wheels", "wheels with a rule",
                   std::to_string(wheel.id), "Type the rule first."};
  }
  switch (rules::JudgeVouch(*rule->value, AgeOf(book, wheel, beside), vouch)) {
    case rules::VouchAnswer::kTaken:
      return;
    case rules::VouchAnswer::kNotAllowed:
      throw ActFault{fmt::format("\"{}\" lets nobody vouch for a day.", rule->value->name), "wheels",
                     "a rule that allows it", rule->value->name, ""};
    case rules::VouchAnswer::kNeedsName:
      throw ActFault{"Whoever vouches gives a name.", "name", "a name", "none", ""};
    case rules::VouchAnswer::kNeedsReason:
      throw ActFault{"Whoever vouches gives a reason.", "reason", "a reason", "none", ""};
    case rules::VouchAnswer::kNothingToVouchFor:
      throw ActFault{fmt::format("Of {} there is no day to vouch for from {} to {}: only days of which nothing was "
                                 "recorded can be vouched for.",
                                 book.WheelName(wheel), ToText(vouch.from), ToText(vouch.to)),
                     "from", "days without a record", ToText(vouch.from), ""};
  }
}

std::optional<rules::ReleaseOverride> OverrideOf(const object& body) {
  const object* by = fields::MaybeObject(body, "override");
  if (!by) return std::nullopt;
  return rules::ReleaseOverride{fields::TextOr(*by, "name", ""), fields::TextOr(*by, "reason", "")};
}

void CheckHold(const Book& book, const WheelRow& wheel, const std::optional<rules::ReleaseOverride>& by) {
  const auto* hold = book.HoldOf(wheel);
  if (!hold || by) return;
  throw ActFault{fmt::format("{} is held: {}.", book.WheelName(wheel), hold->value.why), "wheels",
                 "wheels that are not held", std::to_string(wheel.id), "Let it go first, or override with a reason."};
}

void CheckOverride(const std::optional<rules::ReleaseOverride>& by) {
  if (!by) return;
  if (by->name.empty()) throw ActFault{"An override is signed with a name.", "override", "a name", "none", ""};
  if (by->reason.empty()) throw ActFault{"An override gives a reason.", "override", "a reason", "none", ""};
}

object SumsOf(const WheelRow& wheel, const QualifyingAge& age) {
  return {{"wheel", wheel.id},      {"proven", age.proven},     {"vouched", age.vouched},
          {"missing", age.missing}, {"unproven", age.unproven}, {"of", age.of}};
}

}  // namespace

object JudgeRule(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  if (const object* rule = fields::MaybeObject(body, "rule")) RuleFrom(*rule);
  return {};
}

object JudgeVouch(const Book& book, const object& body, JournalLine& line, const Beside& beside) {
  NameWheels(book, body, line);
  const rules::Vouch vouch{line.id, fields::Day(body, "from"), fields::Day(body, "to"),
                           fields::TextOr(body, "name", ""), fields::TextOr(body, "reason", "")};
  if (vouch.to < vouch.from) {
    throw ActFault{"The last day does not lie before the first.", "to", ToText(vouch.from) + " or later",
                   ToText(vouch.to), ""};
  }
  const rules::Date today = book.Home().DayOf(line.received_at);
  if (vouch.to >= today) {
    throw ActFault{"Only days that are over can be vouched for.", "to", "a day before " + ToText(today),
                   ToText(vouch.to), ""};
  }
  for (const rules::WheelId id : line.wheels) CheckVouch(book, *book.Wheel(id), vouch, beside);
  return {};
}

object JudgeRelease(const Book& book, const object& body, JournalLine& line, const Beside& beside) {
  NameWheels(book, body, line);
  const auto by = OverrideOf(body);
  CheckOverride(by);
  json::array sums;
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    CheckHold(book, wheel, by);
    if (!book.RuleOf(wheel)) continue;
    const QualifyingAge& age = AgeOf(book, wheel, beside);
    if (rules::JudgeRelease(age, by) != rules::ReleaseAnswer::kReleased) {
      throw ActFault{fmt::format("{} is {} short: {}.", book.WheelName(wheel),
                                 age.Short() == 1 ? "1 day" : fmt::format("{} days", age.Short()), DaysShort(age)),
                     "wheels", fmt::format("{} days", age.of), fmt::format("{} days", age.Counted()),
                     "Wait, or override with a name and a reason."};
    }
    sums.push_back(SumsOf(wheel, age));
  }
  if (sums.empty()) return {};
  return {{"ages", std::move(sums)}};
}

}  // namespace rindwatch
