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

// The least temperature at which a day counts for the wheel, in degrees Celsius; none: it has no rule, or any does.
std::optional<double> LeastOf(const Book& book, rules::WheelId id) {
  const WheelRow* wheel = book.Wheel(id);
  const auto* rule = wheel ? book.RuleOf(*wheel) : nullptr;
  if (!rule || !rule->value->min_temperature) return std::nullopt;
  return rule->value->min_temperature->value;
}

bool Costs(const Book& book, const rules::ColdDay& cold, rules::WheelId wheel) {
  const std::optional<double> least = LeastOf(book, wheel);
  return least && cold.low < *least;
}

}  // namespace

std::vector<rules::Date> DaysLost(const Book& book, const rules::Alarm& alarm) {
  std::set<rules::Date> days;
  for (const rules::ColdDay& cold : alarm.cold_days) {
    if (std::ranges::any_of(cold.wheels, [&](rules::WheelId id) { return Costs(book, cold, id); }))
      days.insert(cold.day);
  }
  return {days.begin(), days.end()};
}

std::vector<rules::Date> DaysLostBy(const Book& book, const rules::Alarm& alarm, rules::WheelId wheel) {
  std::set<rules::Date> days;
  for (const rules::ColdDay& cold : alarm.cold_days) {
    if (std::ranges::find(cold.wheels, wheel) != cold.wheels.end() && Costs(book, cold, wheel)) days.insert(cold.day);
  }
  return {days.begin(), days.end()};
}

bool CostsNoDay(const Book& book, const rules::Alarm& alarm) {
  const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
  if (!alarm.over || (!cold && alarm.kind != rules::AlarmKind::kTooWarm)) return false;
  // What nobody judged any more nobody knows.
  if (alarm.Unjudged() || !DaysLost(book, alarm).empty()) return false;
  return std::ranges::any_of(TouchedBy(alarm), [&book](rules::WheelId id) {
    const WheelRow* wheel = book.Wheel(id);
    return wheel != nullptr && book.RuleOf(*wheel) != nullptr;
  });
}

}  // namespace rindwatch
