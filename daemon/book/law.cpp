#include "daemon/book/law.hpp"

#include <fmt/format.h>

#include "daemon/book/fields.hpp"
#include "daemon/book/known_fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

rules::StartKind StartOf(const object& rule) {
  const std::string word = fields::Text(rule, "start");
  if (const auto kind = rules::StartKindFrom(word)) return *kind;
  throw ActFault{fmt::format("Nothing is counted from \"{}\".", word), "start", "a start such as \"made\"", word, ""};
}

int DaysOf(const object& rule, const char* name) {
  const auto days = fields::MaybeWhole(rule, name).value_or(0);
  if (days >= 0 && days <= 100'000) return static_cast<int>(days);
  throw ActFault{fmt::format("{} is a count from 0 on.", name), name, "0 or more", std::to_string(days), ""};
}

std::vector<rules::WheelState> StatesOf(const object& rule) {
  std::vector<rules::WheelState> states;
  if (!rule.contains("not_counting")) return states;
  for (const std::string& word : fields::Texts(rule, "not_counting")) {
    const auto state = rules::WheelStateFrom(word);
    if (!state) {
      throw ActFault{fmt::format("No wheel is \"{}\" while it ripens.", word), "not_counting",
                     "states such as \"drying\"", word, ""};
    }
    states.push_back(*state);
  }
  return states;
}

const char* Sentence(rules::RuleFault fault) {
  switch (fault) {
    case rules::RuleFault::kNoName:
      return "A rule has a name.";
    case rules::RuleFault::kNoDays:
      return "A rule asks for at least one day.";
    case rules::RuleFault::kTooManyDays:
      return "A rule asks for fewer days.";
    case rules::RuleFault::kTooManyMonths:
      return "A rule asks for fewer months.";
    case rules::RuleFault::kNoTemperature:
      return "The least temperature is one that air can have.";
  }
  return "The rule cannot be used.";
}

const char* FieldOf(rules::RuleFault fault) {
  switch (fault) {
    case rules::RuleFault::kNoName:
      return "name";
    case rules::RuleFault::kNoDays:
    case rules::RuleFault::kTooManyDays:
      return "min_days";
    case rules::RuleFault::kTooManyMonths:
      return "min_months";
    case rules::RuleFault::kNoTemperature:
      return "min_celsius";
  }
  return "rule";
}

}  // namespace

rules::QualifyingRule RuleFrom(const object& from) {
  CheckFields(from, "name start min_celsius min_days min_months not_counting vouching", "a rule");
  rules::QualifyingRule rule;
  rule.name = fields::Text(from, "name");
  rule.start = StartOf(from);
  if (const auto least = fields::MaybeNumber(from, "min_celsius")) rule.min_temperature = rules::Celsius{*least};
  rule.min_days = DaysOf(from, "min_days");
  rule.min_months = DaysOf(from, "min_months");
  rule.not_counting = StatesOf(from);
  rule.vouching = fields::Truth(from, "vouching");
  if (const auto fault = rules::FaultOf(rule)) {
    const json::value* found = from.if_contains(FieldOf(*fault));
    throw ActFault{Sentence(*fault), FieldOf(*fault), "another figure", found ? json::serialize(*found) : "nothing",
                   ""};
  }
  return rule;
}

object RuleJson(const rules::QualifyingRule& rule) {
  json::array states;
  for (const rules::WheelState state : rule.not_counting) states.push_back(json::string(rules::ToText(state)));
  object object{{"name", rule.name},
                {"start", rules::ToText(rule.start)},
                {"min_days", rule.min_days},
                {"not_counting", std::move(states)},
                {"vouching", rule.vouching}};
  if (rule.min_temperature) object["min_celsius"] = rule.min_temperature->value;
  if (rule.min_months > 0) object["min_months"] = rule.min_months;
  return object;
}

}  // namespace rindwatch
