#include "rules/alarms/judged.hpp"

namespace rindwatch::rules::watch {

AlarmKind KindOf(ChannelKind kind, int side) {
  if (kind == ChannelKind::kTemperature) return side > 0 ? AlarmKind::kTooWarm : AlarmKind::kTooCold;
  return side > 0 ? AlarmKind::kTooDamp : AlarmKind::kTooDry;
}

void AddTouched(Alarm& alarm, const std::vector<WheelId>& wheels) {
  for (const WheelId wheel : wheels) {
    if (std::ranges::count(alarm.wheels, wheel) == 0) alarm.wheels.push_back(wheel);
  }
}

void CountBack(const Judged& judged, const Ladder& ladder, double deadband, WayBack& way, bool held) {
  const bool inside = !ladder.Beyond(judged.Mean(), ladder.edge) && !held;
  way.inside = inside ? way.inside + kMinute : Millis{0};
  way.past = inside && IsBack(ladder, judged.Mean(), deadband) ? way.past + kMinute : Millis{0};
}

Millis BackFor(const WayBack& way, const Settings& s) {
  return std::max(way.past, way.inside - Minutes(s.off_inside) + Minutes(s.off_after));
}

void EndBack(Body& body, const Judged& judged, const WayBack& way, Alarm& alarm, Decisions& out) {
  const bool by_deadband = way.past >= Minutes(judged.settings.off_after);
  alarm.back_since = judged.at - (by_deadband ? way.past : way.inside);
  End(body, alarm, judged.at, out, by_deadband ? Ending::kReturned : Ending::kInside);
}

}  // namespace rindwatch::rules::watch
