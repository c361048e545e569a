#include "rules/alarms/one_event.hpp"

#include <algorithm>
#include <utility>

#include "rules/alarms/first.hpp"
#include "rules/alarms/stake.hpp"

namespace rindwatch::rules::watch {
namespace {

// By then a mean of a day holds nothing of it any more, with some hours for what came before it and after; and the mean
// of half a day, by which air is drier than usual.
constexpr Millis kHeldStill = std::chrono::hours{30}, kHeldDry = std::chrono::hours{18};
// The mean that is judged holds what a door let in for as long after the air has turned.
constexpr Millis kHoldsDoor = std::chrono::hours{1};

// Warm air dries, wets cold rinds and comes of a plant that does not keep up; cold air dries or damps. Damp air wets
// rinds. Of dry air a humidifier without water is the cause, of damp air water that stands.
bool Tells(AlarmKind main, AlarmKind kind) {
  switch (kind) {
    case AlarmKind::kTooDry:
    case AlarmKind::kPlantWeak:
      return main == AlarmKind::kTooWarm || main == AlarmKind::kTooCold;
    case AlarmKind::kTooDamp:
      return main == AlarmKind::kTooWarm || main == AlarmKind::kTooCold || main == AlarmKind::kCondensation;
    case AlarmKind::kCondensation:
      return main == AlarmKind::kTooWarm;
    case AlarmKind::kHumidifierDry:
      return main == AlarmKind::kTooDry;
    case AlarmKind::kDrainBlocked:
      return main == AlarmKind::kTooDamp;
    default:
      return false;
  }
}

// Warmth and cold reach into the boxes that stand in a cave; humidity stays where it is.
bool Reaches(const Body& body, const Alarm& main, CaveId cave) {
  if (main.cave == cave) return true;
  return IsOfWarmth(main.kind) && std::ranges::count(Outwards(body, cave), main.cave) > 0;
}

bool IsLoud(const Alarm& alarm) { return !alarm.over && alarm.severity >= Severity::kAct; }

bool AsksAfterDoor(const Alarm& alarm) { return alarm.kind == AlarmKind::kDoorOpen && alarm.why == Why::kAfterRound; }

// Whether `main` tells of what `kind` would say. A cause is told with the first quiet word about the air; that one of
// two probes may be right says that they contradict each other.
bool TellsOf(const Alarm& main, AlarmKind kind, Severity severity) {
  if (kind == AlarmKind::kProbesDisagree) return !main.over && main.why == Why::kOneProbe;
  if (main.over || !Tells(main.kind, kind)) return false;
  // Rinds that are wet in damp air: one wet air, and its drops are what wants a hand. Air that has become graver than
  // they are is a matter of its own.
  if (main.kind == AlarmKind::kCondensation) return main.severity >= std::max(Severity::kWatch, severity);
  const bool cause = kind == AlarmKind::kHumidifierDry || kind == AlarmKind::kDrainBlocked;
  return cause ? main.severity >= Severity::kWatch : IsLoud(main);
}

bool TellsOf(const Body& body, const Alarm& main, const Alarm& alarm) {
  if (alarm.over || main.id == alarm.id || !Reaches(body, main, alarm.cave)) return false;
  // That a band has moved is the keeper's own doing, and stands when whatever failed is over.
  if (alarm.why == Why::kPlanStep) return false;
  // A probe that fell silent with an empty battery.
  if (alarm.kind == AlarmKind::kBatteryLow)
    return main.kind == AlarmKind::kProbeSilent && main.probe == alarm.probe && !main.over;
  if (AsksAfterDoor(alarm)) return main.kind == AlarmKind::kTooWarm && IsLoud(main);
  // The same in a box of it: one event, unless the box is worse off.
  if (main.kind == alarm.kind)
    return IsOfWarmth(main.kind) && main.cave != alarm.cave && IsLoud(main) && alarm.severity <= main.severity;
  return TellsOf(main, alarm.kind, alarm.severity);
}

}  // namespace

bool IsAskedAlready(const Body& body, AlarmKind kind, CaveId cave, Severity severity) {
  const bool of_air = kind == AlarmKind::kTooWarm || kind == AlarmKind::kTooDry || kind == AlarmKind::kCondensation;
  if (!of_air || severity >= Severity::kAct) return false;
  return std::ranges::any_of(Outwards(body, cave), [&](CaveId around) {
    const auto found = body.caves.find(around);
    const bool answered = found != body.caves.end() && found->second.door_answered &&
                          body.now - *found->second.door_answered < kHoldsDoor;
    return answered || std::ranges::any_of(body.alarms, [around](const Alarm& alarm) {
             return AsksAfterDoor(alarm) && !alarm.over && alarm.cave == around;
           });
  });
}

bool IsAnsweredLoudly(const Body& body, CaveId cave) {
  return std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    return alarm.kind == AlarmKind::kTooWarm && IsLoud(alarm) && Reaches(body, alarm, cave);
  });
}

bool IsToldByAnother(const Body& body, AlarmKind kind, CaveId cave, Severity severity) {
  return std::ranges::any_of(
      body.alarms, [&](const Alarm& alarm) { return TellsOf(alarm, kind, severity) && Reaches(body, alarm, cave); });
}

const Alarm* TellerOf(const Body& body, const Alarm& alarm) {
  const auto found = std::ranges::find_if(body.alarms, [&](const Alarm& main) { return TellsOf(body, main, alarm); });
  return found == body.alarms.end() ? nullptr : &*found;
}

void QuietWhatItTells(Body& body, const Alarm& main, Instant at, Decisions& out) {
  for (Alarm& alarm : body.alarms) {
    const bool lesser = alarm.severity < Severity::kUrgent || alarm.kind == main.kind;
    if (!lesser || !TellsOf(body, main, alarm)) continue;
    alarm.told_by = main.id;
    Suppress(body, alarm, at, out);
  }
}

bool IsOfWhatIsOver(const Body& body, AlarmKind kind, CaveId cave) {
  if (kind == AlarmKind::kTooDry) {
    const auto found = body.caves.find(cave);
    return found != body.caves.end() && found->second.dry_told && body.now - *found->second.dry_told < kHeldDry;
  }
  if (kind != AlarmKind::kPlantWeak) return false;
  return std::ranges::any_of(Outwards(body, cave), [&](CaveId around) {
    const auto found = body.caves.find(around);
    return found != body.caves.end() && found->second.warmth_told && body.now - *found->second.warmth_told < kHeldStill;
  });
}

void RememberIllness(Body& body, const Alarm& alarm, Instant at) {
  const auto found = body.caves.find(alarm.cave);
  if (found == body.caves.end()) return;
  if (IsGas(alarm.kind)) found->second.gas_over = at;
  // What nobody judges any more was not told to its end.
  const bool told = !alarm.Unjudged();
  const bool loud = alarm.severity >= Severity::kAct;
  // Wheels cool more slowly than their air: until they are back inside, what they hold still is no news.
  if (alarm.kind == AlarmKind::kTooWarm && loud && told) {
    found->second.temperature.seen_within.clear();
    found->second.temperature.wheel = {};
  }
  if (alarm.kind == AlarmKind::kTooDry && alarm.why != Why::kBelowNormal && told) found->second.dry_told = at;
  if (!IsOfWarmth(alarm.kind) || !loud) return;
  const std::optional<Instant> loud_before = std::exchange(found->second.ill_until, at);
  if (!told) return;
  // A door that was told the day before does not cut short for how long a failure is held.
  if (!loud_before || at - *loud_before >= kHeldStill) found->second.warmth_told.reset();
  NoteWarmth(found->second, at);
}

bool GasStandsIn(const Body& body, CaveId cave) {
  return std::ranges::any_of(
      body.alarms, [cave](const Alarm& alarm) { return IsGas(alarm.kind) && alarm.cave == cave && !alarm.over; });
}

void NoteWarmth(Cave& cave, Instant at) {
  // What comes each day must not hide an early sign without an end: the next one does not add to the last one's time.
  auto& since = cave.warmth_told;
  if (!since || at - *since >= kHeldStill) since = at;
}

bool IsIll(const Body& body, CaveId cave) {
  return std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    return IsOfWarmth(alarm.kind) && IsLoud(alarm) && Reaches(body, alarm, cave);
  });
}

bool WasIll(const Body& body, CaveId cave, Instant since) {
  return IsIll(body, cave) || std::ranges::any_of(Outwards(body, cave), [&](CaveId around) {
           const auto found = body.caves.find(around);
           return found != body.caves.end() && found->second.ill_until && *found->second.ill_until >= since;
         });
}

}  // namespace rindwatch::rules::watch
