#include "daemon/api/day_mean.hpp"

#include <fmt/format.h>

#include "rules/alarms/ahead.hpp"

namespace rindwatch {

std::string DayMeanWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why != rules::Why::kDayMeanUp || alarm.over) return {};
  const auto day = rules::DayMeanOf(context.watch.Engine(), alarm.cave, context.now());
  if (!day) return {};
  const auto degrees = [](double value) { return fmt::format("{:.1f} °C", value); };
  const rules::ChannelView air = context.watch.View(alarm.cave).temperature;
  if (!air.mean) return context.words.Say("alarm.day mean.unknown", {{"day", degrees(*day)}});
  const std::string now = degrees(*air.mean);
  if (!air.band) return context.words.Say("alarm.day mean", {{"day", degrees(*day)}, {"now", now}});
  const std::string band = context.words.Say(
      "span", {{"low", fmt::format("{}", air.band->low)}, {"high", fmt::format("{}", air.band->high)}});
  const bool within = *air.mean >= air.band->low && *air.mean <= air.band->high;
  return context.words.Say(within ? "alarm.day mean.in" : "alarm.day mean.out",
                           {{"day", degrees(*day)}, {"now", now}, {"band", band}});
}

}  // namespace rindwatch
