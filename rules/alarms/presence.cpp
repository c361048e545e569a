#include "rules/alarms/presence.hpp"

#include <algorithm>

#include "rules/alarms/doubts.hpp"
#include "rules/alarms/lifecycle.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

bool IsOfTheAir(AlarmKind kind) {
  switch (kind) {
    case AlarmKind::kTooWarm:
    case AlarmKind::kTooCold:
    case AlarmKind::kTooDry:
    case AlarmKind::kTooDamp:
    case AlarmKind::kCondensation:
      return true;
    default:
      return false;
  }
}

// One tick after the other is one round.
constexpr Millis kSameRound = std::chrono::minutes{30};
// Who works first ticks when it is done; the air rises a little after the door was opened.
constexpr Millis kWorks = std::chrono::minutes{30}, kRises = std::chrono::minutes{15};

bool QuietWhileHere(AlarmKind kind) { return IsOfTheAir(kind) || kind == AlarmKind::kDoorOpen; }

bool IsHere(const Cave& cave, Instant at) { return cave.here_until && at < *cave.here_until; }

std::optional<Instant> LatestOf(const std::vector<Here>& here) {
  const auto last = std::ranges::max_element(here, {}, &Here::until);
  return last == here.end() ? std::nullopt : std::optional(last->until);
}

// Until when the air of this cave is excused: its door stands open, or somebody was there a moment ago.
std::optional<Instant> ExcusedUntil(const Cave& cave, Instant at) {
  std::optional<Instant> until;
  const auto excuse = [&](Instant to) {
    if (at < to) until = std::max(until.value_or(to), to);
  };
  const Millis after = Minutes(cave.settings.door_quiet_after);
  if (cave.tended) excuse(*cave.tended + after);
  if (cave.door_open) excuse(*cave.door_open + Minutes(cave.settings.door_act_after));
  if (cave.door_shut && !cave.door_open) excuse(*cave.door_shut + after);
  return until;
}

}  // namespace

std::vector<CaveId> TogetherWith(const Body& body, CaveId cave) {
  const CaveId outermost = Outwards(body, cave).back();
  std::vector<CaveId> together;
  for (const auto& [id, other] : body.caves) {
    if (Outwards(body, id).back() == outermost) together.push_back(id);
  }
  return together;
}

bool IsQuiet(const Body& body, AlarmKind kind, CaveId id, Severity severity, Instant at) {
  if (severity >= Severity::kUrgent || !QuietWhileHere(kind)) return false;
  return std::ranges::any_of(TogetherWith(body, id), [&](CaveId near) {
    const Cave& cave = body.caves.at(near);
    return IsHere(cave, at) || (IsOfTheAir(kind) && ExcusedUntil(cave, at));
  });
}

std::optional<Instant> QuietUntil(const Body& body, CaveId id, Instant at) {
  std::optional<Instant> until;
  for (const CaveId near : TogetherWith(body, id)) {
    const Cave& cave = body.caves.at(near);
    for (const auto& one : {IsHere(cave, at) ? cave.here_until : std::nullopt, ExcusedUntil(cave, at)}) {
      if (one && (!until || *one > *until)) until = one;
    }
  }
  return until;
}

void BeSeen(Cave& cave, Instant at) {
  cave.tended = at;
  cave.tended_judged = false;
  const auto before = cave.stay;
  const bool goes_on = before && at <= before->to + kSameRound;
  cave.stay = goes_on ? Stay{before->from, std::max(before->to, at)} : Stay{at, at};
}

bool BeganWithRound(const Cave& cave, Instant since) {
  if (!cave.tended) return false;
  const Instant came = cave.stay ? std::min(cave.stay->from, *cave.tended) : *cave.tended;
  return since >= came - kWorks && since <= *cave.tended + kRises;
}

void ComeHere(Body& body, CaveId id, const std::string& keeper, Instant at, Decisions& out) {
  const auto found = body.caves.find(id);
  if (found == body.caves.end()) return;
  Cave& cave = found->second;
  std::erase_if(cave.here, [&](const Here& one) { return one.keeper == keeper || one.until <= at; });
  cave.here.push_back({keeper, at + Minutes(cave.settings.here_for)});
  cave.here_until = LatestOf(cave.here);
  const auto near = TogetherWith(body, id);
  for (const CaveId one : near) {
    std::optional<Stay>& stay = body.caves.at(one).stay;
    stay = Stay{stay && at < stay->to ? stay->from : at, *cave.here_until};
  }
  for (Alarm& alarm : body.alarms) {
    if (std::ranges::count(near, alarm.cave) == 0 || alarm.over || !QuietWhileHere(alarm.kind)) continue;
    if (alarm.severity < Severity::kUrgent) Suppress(body, alarm, at, out);
  }
}

void GoOut(Body& body, CaveId id, const std::string& keeper, Instant at, Decisions& out) {
  const auto near = TogetherWith(body, id);
  const bool named = !keeper.empty() && std::ranges::any_of(near, [&](CaveId one) {
    return std::ranges::count(body.caves.at(one).here, keeper, &Here::keeper) > 0;
  });
  // A keeper whom nobody knows to be there may have said so before the phone knew the name.
  const std::string& whose = named ? keeper : std::string{};
  Instant left = at;
  for (const CaveId one : near) {
    std::vector<Here>& here = body.caves.at(one).here;
    std::erase_if(here, [&](const Here& h) { return keeper.empty() || h.keeper == whose || h.until <= at; });
    left = std::max(left, LatestOf(here).value_or(at));
  }
  for (const CaveId one : near) {
    Cave& cave = body.caves.at(one);
    if (IsHere(cave, at)) cave.here_until = LatestOf(cave.here).value_or(at);
    if (cave.stay && left < cave.stay->to) cave.stay->to = left;
  }
  EndPresence(body, at, out);
}

void EndPresence(Body& body, Instant at, Decisions& out) {
  for (auto& [id, cave] : body.caves) {
    if (cave.here_until && *cave.here_until <= at) cave.here_until.reset();
    std::erase_if(cave.here, [&](const Here& one) { return one.until <= at; });
  }
  for (Alarm& alarm : body.alarms) {
    if (!alarm.suppressed) continue;
    const auto near = TogetherWith(body, alarm.cave);
    const bool here = std::ranges::any_of(near, [&](CaveId id) { return body.caves.at(id).here_until.has_value(); });
    const bool wet = alarm.kind == AlarmKind::kTooDamp && IsWetOver(body, alarm.cave);
    const Alarm* const teller = TellerOf(body, alarm);
    const bool held = alarm.kind == AlarmKind::kPlantWeak && IsOfWhatIsOver(body, alarm.kind, alarm.cave);
    alarm.told_by = teller ? teller->id : "";
    if (here || wet || teller || held) continue;
    Unsuppress(body, alarm, at, out);
    QuietWhatItTells(body, alarm, at, out);
  }
}

}  // namespace rindwatch::rules::watch
