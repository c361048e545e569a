#include "daemon/api/edges.hpp"

namespace rindwatch {
namespace {

constexpr double kWarmed = 1;  // K

bool IsOfSilence(rules::AlarmKind kind) {
  return kind == rules::AlarmKind::kPowerGone || kind == rules::AlarmKind::kProbeSilent;
}

}  // namespace

std::string EdgesSay(const ApiContext& context, const rules::Alarm& alarm) {
  if (!IsOfSilence(alarm.kind) || !alarm.before || !alarm.warmest) return {};
  // Of a time in which nothing spoke the air of its end is the furthest of it.
  if (alarm.extreme - *alarm.before >= kWarmed) return context.words.Say("edges.stood");
  const auto band = context.watch.View(alarm.cave).temperature.band;
  if (band && (*alarm.before < band->low || *alarm.before > band->high)) return {};
  return context.words.Say("edges.ran");
}

}  // namespace rindwatch
