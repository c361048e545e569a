#include "daemon/api/freezing.hpp"

#include "daemon/api/course.hpp"
#include "daemon/morning/phrases.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {

std::string FreezingWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.kind != rules::AlarmKind::kTooCold || alarm.over || IsAirUnknown(context, alarm)) return {};
  const auto within = rules::FreezesWithin(context.watch.Engine(), alarm.cave, context.now());
  if (!within) return {};
  return context.words.Say("alarm.freezes",
                           {{"when", morning::MatterWords(context.words, within->soonest, within->latest)}});
}

}  // namespace rindwatch
