#include "daemon/api/day_mean.hpp"

#include "daemon/words/figures.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {

namespace {

// "14.4 °C, in the days before 12.5 °C"
std::string DayWords(const ApiContext& context, const rules::Alarm& alarm, double day) {
  const auto before = rules::DaysBeforeOf(context.watch.Engine(), alarm.cave, context.now());
  if (!before) return TemperatureFigure(day);
  return context.words.Say("alarm.day mean.before",
                           {{"day", TemperatureFigure(day)}, {"before", TemperatureFigure(*before)}});
}

}  // namespace

std::string DayMeanWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why != rules::Why::kDayMeanUp || alarm.over) return {};
  const auto mean = rules::DayMeanOf(context.watch.Engine(), alarm.cave, context.now());
  if (!mean) return {};
  const std::string day = DayWords(context, alarm, *mean);
  const rules::ChannelView air = context.watch.View(alarm.cave).temperature;
  if (!air.mean) return context.words.Say("alarm.day mean.unknown", {{"day", day}});
  const std::string now = TemperatureFigure(*air.mean);
  // Where a band has moved under the air, it is told against the one that failures are judged by: the other is a
  // wheel's that wants a cooler place, and no thermostat's.
  const auto judged = rules::WarmthJudgedBy(context.watch.Engine(), alarm.cave);
  if (!judged) return context.words.Say("alarm.day mean", {{"day", day}, {"now", now}});
  const std::string band = BandFigure(context.words, *judged);
  const bool within = *air.mean >= judged->low && *air.mean <= judged->high;
  return context.words.Say(within ? "alarm.day mean.in" : "alarm.day mean.out",
                           {{"day", day}, {"now", now}, {"band", band}});
}

}  // namespace rindwatch
