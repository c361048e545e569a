#include "rules/alarms/one_event.hpp"

#include <algorithm>

namespace rindwatch::rules::watch {
namespace {

// Warm air dries, wets cold rinds and comes of a plant that does not keep up; cold air dries or damps.
bool Tells(AlarmKind main, AlarmKind kind) {
  switch (kind) {
    case AlarmKind::kTooDry:
    case AlarmKind::kTooDamp:
    case AlarmKind::kPlantWeak:
      return main == AlarmKind::kTooWarm || main == AlarmKind::kTooCold;
    case AlarmKind::kCondensation:
      return main == AlarmKind::kTooWarm;
    default:
      return false;
  }
}

bool Stands(const Alarm& alarm) { return !alarm.over && alarm.severity >= Severity::kAct; }

}  // namespace

bool IsToldByAnother(const Body& body, AlarmKind kind, CaveId cave) {
  return std::ranges::any_of(
      body.alarms, [&](const Alarm& alarm) { return alarm.cave == cave && Stands(alarm) && Tells(alarm.kind, kind); });
}

void QuietWhatItTells(Body& body, const Alarm& main, Instant at, Decisions& out) {
  if (!Stands(main)) return;
  for (Alarm& alarm : body.alarms) {
    const bool lesser = alarm.cave == main.cave && !alarm.over && alarm.severity < Severity::kUrgent;
    if (lesser && Tells(main.kind, alarm.kind)) Suppress(body, alarm, at, out);
  }
}

bool IsIll(const Body& body, CaveId cave) {
  return std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    const bool warmth = alarm.kind == AlarmKind::kTooWarm || alarm.kind == AlarmKind::kTooCold;
    return warmth && alarm.cave == cave && Stands(alarm);
  });
}

}  // namespace rindwatch::rules::watch
