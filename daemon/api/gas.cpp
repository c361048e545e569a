#include "daemon/api/gas.hpp"

#include <algorithm>

namespace rindwatch {

namespace {

// Of the cave or of the one around it: there is one air.
bool Reaches(const ApiContext& context, const rules::Alarm& alarm, rules::CaveId id) {
  const CaveRow* cave = context.book().Cave(id);
  return alarm.cave == id || (cave && cave->inside == alarm.cave);
}

}  // namespace

bool DarkensGas(const Book& book, const rules::Alarm& alarm) {
  if (alarm.kind != rules::AlarmKind::kPowerGone && alarm.kind != rules::AlarmKind::kProbeSilent) return false;
  return std::ranges::any_of(book.Probes(), [&](const ProbeRow* probe) {
    const bool its = alarm.probe ? probe->id == *alarm.probe : book.HangsIn(*probe) == alarm.cave;
    return its &&
           std::ranges::any_of(probe->channels, [](const ProbeChannel& channel) { return rules::IsGas(channel.kind); });
  });
}

bool StandsInGas(const ApiContext& context, rules::CaveId cave) {
  const std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const rules::Alarm& alarm) {
    return rules::IsGas(alarm.kind) && !alarm.over && Reaches(context, alarm, cave);
  });
}

bool IsBarredByGas(const ApiContext& context, rules::CaveId cave) {
  const std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const rules::Alarm& alarm) {
    if (alarm.over || alarm.severity < rules::Severity::kAct || !Reaches(context, alarm, cave)) return false;
    return rules::IsGas(alarm.kind) || DarkensGas(context.book(), alarm);
  });
}

}  // namespace rindwatch
