#include "daemon/api/gas.hpp"

#include <algorithm>

namespace rindwatch {

namespace {

// Of the cave or of the one around it: there is one air.
bool Reaches(const Book& book, const rules::Alarm& alarm, rules::CaveId id) {
  const CaveRow* cave = book.Cave(id);
  return alarm.cave == id || (cave && cave->inside == alarm.cave);
}

// Any that lasts and reaches the cave.
template <typename Which>
bool IsAny(const Watch& watch, rules::CaveId cave, Which which) {
  const std::vector<rules::Alarm> alarms = watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const rules::Alarm& alarm) {
    return !alarm.over && Reaches(watch.TheBook(), alarm, cave) && which(alarm);
  });
}

// What is settled stays as it is.
bool IsBarredLine(const ApiContext& context, const rules::Round::Line& line) {
  return line.line->care->OnRound() && IsBarredByGas(context, line.line->place.cave);
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
  return IsAny(context.watch, cave, [](const rules::Alarm& alarm) { return rules::IsGas(alarm.kind); });
}

bool RingsOfGas(const Watch& watch, rules::CaveId cave) {
  return IsAny(watch, cave, [](const rules::Alarm& alarm) {
    return rules::IsGas(alarm.kind) && alarm.severity >= rules::Severity::kAct;
  });
}

bool IsBarredByGas(const Watch& watch, rules::CaveId cave) {
  return IsAny(watch, cave, [&watch](const rules::Alarm& alarm) {
    return alarm.severity >= rules::Severity::kAct && (rules::IsGas(alarm.kind) || DarkensGas(watch.TheBook(), alarm));
  });
}

rules::Round WithoutBarred(const ApiContext& context, rules::Round round) {
  std::erase_if(round.lines, [&](const rules::Round::Line& line) { return IsBarredLine(context, line); });
  for (std::size_t i = 0; i < round.sections.size(); ++i) {
    round.sections[i].left = std::ranges::any_of(
        round.lines, [i](const rules::Round::Line& line) { return line.section == i && line.line->care->OnRound(); });
  }
  return round;
}

std::size_t BarredLines(const ApiContext& context, const rules::Round& round) {
  return static_cast<std::size_t>(
      std::ranges::count_if(round.lines, [&](const rules::Round::Line& line) { return IsBarredLine(context, line); }));
}

}  // namespace rindwatch
