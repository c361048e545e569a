#include "daemon/replay/rung.hpp"

#include <algorithm>

#include "rules/alarms/first.hpp"

namespace rindwatch {

using rules::AlarmKind;
using rules::Decision;
using rules::Severity;

Rung RungOf(const rules::Alarm& alarm) {
  Rung rung;
  rung.id = alarm.id;
  rung.kind = alarm.kind;
  rung.why = alarm.why;
  rung.severity = alarm.severity;
  rung.cave = alarm.cave;
  rung.probe = alarm.probe;
  rung.since = alarm.since;
  rung.raised = alarm.raised;
  rung.over = alarm.over;
  rung.extreme = alarm.extreme;
  rung.dose = alarm.dose;
  rung.never_left = rules::NeverLeft(alarm);
  rung.folded = alarm.Folded();
  return rung;
}

bool IsReal(AlarmKind kind, const std::string& called) {
  if (called == "plant" || called == "power") return true;
  if (called == "door" && kind == AlarmKind::kDoorOpen) return true;
  // Whatever made it, people would have breathed it.
  if (rules::IsGas(kind)) return called != "probe";
  // A contact told it: only one that lied was not real.
  if (kind == AlarmKind::kHumidifierDry || kind == AlarmKind::kDrainBlocked) return called != "probe";
  if (called != "probe") return false;
  switch (kind) {
    case AlarmKind::kProbeSilent:
    case AlarmKind::kProbeStuck:
    case AlarmKind::kProbeWet:
    case AlarmKind::kProbesDisagree:
    case AlarmKind::kBatteryLow:
      return true;
    default:
      return false;
  }
}

Tally TallyOf(const std::vector<Rung>& alarms) {
  Tally tally;
  for (const Rung& alarm : alarms) {
    if (alarm.folded) continue;
    if (!alarm.Rang()) {
      ++(alarm.severity == Severity::kWatch ? tally.watch : tally.hint);
      continue;
    }
    ++tally.rang;
    if (alarm.called.empty())
      ++tally.unsaid;
    else if (IsReal(alarm.kind, alarm.called))
      ++tally.real;
    else
      ++tally.called[alarm.called];
  }
  return tally;
}

rules::AlarmRates RatesOf(const std::vector<Rung>& alarms, rules::Instant from, rules::Instant to) {
  std::vector<rules::Told> told;
  told.reserve(alarms.size());
  for (const Rung& alarm : alarms) {
    const std::int64_t subject = alarm.probe.value_or(alarm.cave);
    told.push_back({std::string(rules::ToText(alarm.kind)) + " " + std::to_string(subject), alarm.severity, alarm.told,
                    alarm.over});
  }
  return rules::RatesOf(told, from, to);
}

void RungList::Take(const Decision& decision) {
  const rules::Alarm& alarm = decision.alarm;
  const auto [found, fresh] = by_id_.try_emplace(alarm.id, alarms_.size());
  if (fresh) alarms_.push_back(RungOf(alarm));
  Rung& rung = alarms_[found->second];
  rung.extreme = alarm.extreme;
  rung.dose = alarm.dose;
  rung.never_left = rules::NeverLeft(alarm);
  if (alarm.over) rung.over = alarm.over;
  // The line of a keeper's own act says nothing of which alarm tells of which.
  const bool by_keeper = decision.change == Decision::Change::kTaken || decision.change == Decision::Change::kSetAside;
  if (!by_keeper) rung.folded = alarm.Folded();
  const bool worse = decision.change == Decision::Change::kRaisedSeverity;
  if (decision.change == Decision::Change::kRaised || worse) rung.told.push_back(decision.at);
  // What got worse while it was quiet by design did not sound for it.
  if (worse || decision.change == Decision::Change::kBack) rung.severity = std::max(rung.severity, alarm.severity);
}

std::vector<Rung> RungList::Raised(rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave) const {
  std::vector<Rung> raised;
  for (const Rung& rung : alarms_) {
    if (rung.raised >= from && rung.raised < to && (!cave || rung.cave == *cave)) raised.push_back(rung);
  }
  return raised;
}

std::vector<Rung> RungList::Standing(rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave) const {
  std::vector<Rung> standing;
  for (const Rung& rung : alarms_) {
    const bool stood = rung.raised < to && (!rung.over || *rung.over >= from);
    if (stood && (!cave || rung.cave == *cave)) standing.push_back(rung);
  }
  return standing;
}

const Rung* RungList::Find(const std::string& id) const {
  const auto found = by_id_.find(id);
  return found == by_id_.end() ? nullptr : &alarms_[found->second];
}

}  // namespace rindwatch
