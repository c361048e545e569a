#include "daemon/api/days_lost.hpp"

#include <set>

namespace rindwatch {

bool CostsNoDay(const Book& book, const rules::Alarm& alarm) {
  const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
  if (!alarm.over || (!cold && alarm.kind != rules::AlarmKind::kTooWarm)) return false;
  // Where a keeper struck the kind nobody knows what the air did then.
  if (!alarm.uncounted.empty() || alarm.struck) return false;
  std::set<rules::WheelId> wheels(alarm.wheels.begin(), alarm.wheels.end());
  for (const rules::OwnFurthest& own : alarm.own) wheels.insert(own.wheels.begin(), own.wheels.end());
  bool any = false;
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = book.Wheel(id);
    const auto* rule = wheel ? book.RuleOf(*wheel) : nullptr;
    if (!rule) continue;
    any = true;
    const auto& least = rule->value->min_temperature;
    // No wheel is ever colder than its air was; below that its own page counts the days.
    if (cold && least && alarm.extreme < least->value) return false;
  }
  return any;
}

}  // namespace rindwatch
