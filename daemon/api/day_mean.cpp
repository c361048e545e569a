#include "daemon/api/day_mean.hpp"

#include <fmt/format.h>

#include "rules/alarms/ahead.hpp"

namespace rindwatch {

namespace {

std::string Degrees(double value) { return fmt::format("{:.1f} °C", value); }

// "14.4 °C, in the days before 12.5 °C"
std::string DayWords(const ApiContext& context, const rules::Alarm& alarm, double day) {
  const auto before = rules::DaysBeforeOf(context.watch.Engine(), alarm.cave, context.now());
  if (!before) return Degrees(day);
  return context.words.Say("alarm.day mean.before", {{"day", Degrees(day)}, {"before", Degrees(*before)}});
}

}  // namespace

std::string DayMeanWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why != rules::Why::kDayMeanUp || alarm.over) return {};
  const auto mean = rules::DayMeanOf(context.watch.Engine(), alarm.cave, context.now());
  if (!mean) return {};
  const std::string day = DayWords(context, alarm, *mean);
  const rules::ChannelView air = context.watch.View(alarm.cave).temperature;
  if (!air.mean) return context.words.Say("alarm.day mean.unknown", {{"day", day}});
  const std::string now = Degrees(*air.mean);
  // Where a band has moved under the air, it is told against the one that failures are judged by: the other is a
  // wheel's that wants a cooler place, and no thermostat's.
  const auto judged = rules::WarmthJudgedBy(context.watch.Engine(), alarm.cave);
  if (!judged) return context.words.Say("alarm.day mean", {{"day", day}, {"now", now}});
  const std::string band =
      context.words.Say("span", {{"low", fmt::format("{}", judged->low)}, {"high", fmt::format("{}", judged->high)}});
  const bool within = *air.mean >= judged->low && *air.mean <= judged->high;
  return context.words.Say(within ? "alarm.day mean.in" : "alarm.day mean.out",
                           {{"day", day}, {"now", now}, {"band", band}});
}

}  // namespace rindwatch
