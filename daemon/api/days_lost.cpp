#include "daemon/api/days_lost.hpp"

#include <algorithm>
#include <set>

namespace rindwatch {

namespace {

std::set<rules::WheelId> TouchedBy(const rules::Alarm& alarm) {
  std::set<rules::WheelId> wheels(alarm.wheels.begin(), alarm.wheels.end());
  for (const rules::OwnFurthest& own : alarm.own) wheels.insert(own.wheels.begin(), own.wheels.end());
  return wheels;
}

}  // namespace

std::vector<rules::Date> DaysLost(const Book& book, const rules::Alarm& alarm) {
  const std::set<rules::WheelId> touched = TouchedBy(alarm);
  const bool any = std::ranges::any_of(touched, [&book](rules::WheelId id) {
    const WheelRow* wheel = book.Wheel(id);
    return wheel && book.RuleOf(*wheel);
  });
  return any ? alarm.uncounted : std::vector<rules::Date>{};
}

bool CostsNoDay(const Book& book, const rules::Alarm& alarm) {
  const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
  if (!alarm.over || (!cold && alarm.kind != rules::AlarmKind::kTooWarm)) return false;
  // Where a keeper struck the kind nobody knows what the air did then.
  if (!alarm.uncounted.empty() || alarm.struck) return false;
  bool any = false;
  for (const rules::WheelId id : TouchedBy(alarm)) {
    const WheelRow* wheel = book.Wheel(id);
    const auto* rule = wheel ? book.RuleOf(*wheel) : nullptr;
    if (!rule) continue;
    any = true;
    const auto& least = rule->value->min_temperature;
    // Where the air was colder than the rule asks for, the wheel's own page counts the days.
    if (cold && least && alarm.extreme < least->value) return false;
  }
  return any;
}

}  // namespace rindwatch
