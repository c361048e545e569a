#include "daemon/notices/dark.hpp"

#include <fmt/format.h>

#include "daemon/api/gas.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {

bool KeepsItsSteps(const ApiContext& context, const rules::Alarm& alarm) {
  return alarm.kind == rules::AlarmKind::kPowerGone && !alarm.over && !DarkensGas(context.book(), alarm);
}

std::string DarkNews(const ApiContext& context, const rules::Alarm& alarm) {
  std::string air, core;
  if (alarm.before)
    air = context.words.Say("notice.dark.air", {{"time", SinceWord(context, alarm.since)},
                                                {"before", fmt::format("{:.1f} °C", *alarm.before)}});
  if (const auto now = rules::CoresUnheard(context.watch.Engine(), alarm, context.now()))
    core = context.words.Say("notice.dark.core",
                             {{"low", fmt::format("{:.1f}", now->low)}, {"high", fmt::format("{:.1f} °C", now->high)}});
  return morning::Join({air, core}, " ");
}

}  // namespace rindwatch
