#include "daemon/api/freezing.hpp"

#include <algorithm>

#include "daemon/api/course.hpp"
#include "daemon/words/moments.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {

namespace {

// No closer than that is anything foreseen.
constexpr std::chrono::minutes kStep{5};

std::chrono::minutes Rounded(rules::Millis span) {
  const auto steps = (span + kStep / 2) / kStep;
  return std::max(kStep, kStep * steps);
}

}  // namespace

std::string FreezingWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.kind != rules::AlarmKind::kTooCold || alarm.over || IsAirUnknown(context, alarm)) return {};
  const auto within = rules::FreezesWithin(context.watch.Engine(), alarm.cave, context.now());
  if (!within) return {};
  return context.words.Say("alarm.freezes", {{"span", LastsWords(context.words, Rounded(*within))}});
}

}  // namespace rindwatch
