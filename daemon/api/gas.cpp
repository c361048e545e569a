#include "daemon/api/gas.hpp"

#include <algorithm>

#include "daemon/api/within.hpp"

namespace rindwatch {

namespace {

// Any that lasts, of the cave or of one that it stands in: there is one air.
template <typename Which>
bool IsAny(const Watch& watch, rules::CaveId cave, Which which) {
  const std::vector<rules::Alarm> alarms = watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const rules::Alarm& alarm) {
    return !alarm.over && IsWithin(watch.TheBook(), cave, alarm.cave) && which(alarm);
  });
}

}  // namespace

bool DarkensGas(const Book& book, const rules::Alarm& alarm) {
  if (alarm.kind != rules::AlarmKind::kPowerGone && alarm.kind != rules::AlarmKind::kProbeSilent) return false;
  return std::ranges::any_of(book.Probes(), [&](const ProbeRow* probe) {
    // A power cut is told of the outermost cave for all that stands in it.
    const auto there = book.HangsIn(*probe);
    const bool its = alarm.probe ? probe->id == *alarm.probe : there && IsWithin(book, *there, alarm.cave);
    return its && book.OutOfService(*probe) == nullptr &&
           std::ranges::any_of(probe->channels, [](const ProbeChannel& channel) { return rules::IsGas(channel.kind); });
  });
}

bool MeasuresGas(const Book& book, rules::CaveId cave, rules::ChannelKind kind) {
  return std::ranges::any_of(book.Probes(), [&](const ProbeRow* probe) {
    return book.HangsIn(*probe) == cave && book.OutOfService(*probe) == nullptr &&
           std::ranges::any_of(probe->channels, [kind](const ProbeChannel& channel) { return channel.kind == kind; });
  });
}

std::optional<rules::ChannelSaid> SaidOfGas(const Watch& watch, rules::CaveId cave, rules::ChannelKind kind) {
  const Book& book = watch.TheBook();
  const auto before = [](const rules::ChannelSaid& one, const rules::ChannelSaid& other) {
    if (one.speaks != other.speaks) return one.speaks;
    return one.speaks ? one.value > other.value : one.measured_at > other.measured_at;
  };
  std::optional<rules::ChannelSaid> worst;
  for (const ProbeRow* probe : book.Probes()) {
    if (book.HangsIn(*probe) != cave || book.OutOfService(*probe) != nullptr) continue;
    for (const ProbeChannel& channel : probe->channels) {
      if (channel.kind != kind) continue;
      const auto said = rules::LastSaid(watch.Engine(), channel.id, watch.Now());
      if (said && (!worst || before(*said, *worst))) worst = said;
    }
  }
  return worst;
}

bool StandsInGas(const ApiContext& context, rules::CaveId cave) {
  return IsAny(context.watch, cave, [](const rules::Alarm& alarm) { return rules::IsGas(alarm.kind); });
}

bool RingsOfGas(const Watch& watch, rules::CaveId cave) {
  return IsAny(watch, cave, [](const rules::Alarm& alarm) {
    return rules::IsGas(alarm.kind) && alarm.severity >= rules::Severity::kAct;
  });
}

std::vector<rules::CaveId> BarredByGas(const Watch& watch) {
  std::vector<rules::CaveId> caves;
  const std::vector<rules::Alarm> alarms = watch.Engine().Alarms();
  for (const rules::Alarm& alarm : alarms) {
    const bool rings = !alarm.over && alarm.severity >= rules::Severity::kAct;
    if (rings && (rules::IsGas(alarm.kind) || DarkensGas(watch.TheBook(), alarm))) caves.push_back(alarm.cave);
  }
  return caves;
}

bool IsBarredByGas(const Watch& watch, rules::CaveId cave) {
  const std::vector<rules::CaveId> barred = BarredByGas(watch);
  return std::ranges::any_of(barred, [&](rules::CaveId outer) { return IsWithin(watch.TheBook(), cave, outer); });
}

}  // namespace rindwatch
