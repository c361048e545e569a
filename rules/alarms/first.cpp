#include "rules/alarms/first.hpp"

#include <algorithm>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules {
namespace {

// Common practice, no source: by then a fridge whose door was shut, or that got warm goods, is on its way back.
constexpr Millis kHours = std::chrono::hours{2};

std::optional<Knowing> Said(std::string_view called) {
  for (const Knowing one :
       {Knowing::kDoor, Knowing::kDelivery, Knowing::kDefrost, Knowing::kPlant, Knowing::kProbe, Knowing::kPower}) {
    if (called == ToText(one)) return one;
  }
  return std::nullopt;
}

bool PassesSoon(Knowing knowing) {
  return knowing == Knowing::kDoor || knowing == Knowing::kDelivery || knowing == Knowing::kDefrost;
}

const Alarm* Beside(const Alarm& alarm, AlarmKind kind, const std::vector<Alarm>& standing) {
  const auto found = std::ranges::find_if(standing, [&](const Alarm& other) {
    return other.kind == kind && other.cave == alarm.cave && !other.over && other.id != alarm.id;
  });
  return found == standing.end() ? nullptr : &*found;
}

Knowing OfGas(Severity severity) {
  if (severity >= Severity::kUrgent) return Knowing::kDanger;
  return severity >= Severity::kAct ? Knowing::kNothing : Knowing::kStale;
}

// There is no cold to be kept in.
bool WasWarmAlready(const Alarm& alarm, const std::vector<Alarm>& standing) {
  const Alarm* const warm = Beside(alarm, AlarmKind::kTooWarm, standing);
  return warm && warm->severity >= Severity::kAct && !warm->inside_since;
}

// By the watch's own signs.
std::optional<Knowing> Seen(const Alarm& alarm, const std::vector<Alarm>& standing) {
  if (Beside(alarm, AlarmKind::kPowerGone, standing)) return Knowing::kPower;
  if (const Alarm* const door = Beside(alarm, AlarmKind::kDoorOpen, standing)) {
    return door->why == Why::kContact ? Knowing::kDoor : Knowing::kAjar;
  }
  if (Beside(alarm, AlarmKind::kPlantWeak, standing)) return Knowing::kPlant;
  return std::nullopt;
}

// Another hour is too long to wait for.
bool Presses(const Alarm& alarm) {
  constexpr Millis kAnHour = std::chrono::hours{1};
  if (alarm.kind == AlarmKind::kTooCold) return alarm.severity >= Severity::kUrgent || alarm.why == Why::kFreezesSoon;
  if (alarm.kind != AlarmKind::kTooWarm) return false;
  return alarm.severity >= Severity::kUrgent || std::ranges::any_of(alarm.matters, [&](const Matter& matter) {
           return matter.latest && matter.soonest <= kAnHour;
         });
}

}  // namespace

std::string_view ToText(Knowing knowing) {
  switch (knowing) {
    case Knowing::kNothing:
      return "";
    case Knowing::kDoor:
      return "door";
    case Knowing::kAjar:
      return "ajar";
    case Knowing::kDelivery:
      return "delivery";
    case Knowing::kDefrost:
      return "defrost";
    case Knowing::kPlant:
      return "plant";
    case Knowing::kProbe:
      return "probe";
    case Knowing::kPower:
      return "power";
    case Knowing::kBack:
      return "back";
    case Knowing::kTurning:
      return "turning";
    case Knowing::kPress:
      return "press";
    case Knowing::kLong:
      return "long";
    case Knowing::kWater:
      return "water";
    case Knowing::kReady:
      return "ready";
    case Knowing::kGas:
      return "gas";
    case Knowing::kStep:
      return "step";
    case Knowing::kApart:
      return "apart";
    case Knowing::kStale:
      return "stale";
    case Knowing::kDanger:
      return "danger";
    case Knowing::kCreeps:
      return "creeps";
    case Knowing::kUnheard:
      return "unheard";
  }
  return "";
}

Knowing KnownOf(const Alarm& alarm, std::string_view called, const std::vector<Alarm>& standing,
                std::optional<Knowing> course, Instant at, const Place& place) {
  if (IsGas(alarm.kind)) return OfGas(alarm.severity);
  if (place.gas) return Knowing::kGas;
  if (alarm.kind == AlarmKind::kDoorOpen && alarm.why == Why::kAfterRound) return Knowing::kAjar;
  if (alarm.kind == AlarmKind::kPowerGone && place.unheard) return Knowing::kUnheard;
  if (alarm.kind == AlarmKind::kPowerGone && WasWarmAlready(alarm, standing)) return Knowing::kPress;
  if (alarm.why == Why::kDayMeanUp) return Knowing::kCreeps;
  if (!IsOfBand(alarm.kind)) return Knowing::kNothing;
  if (alarm.why == Why::kOneProbe) return Knowing::kProbe;
  if (alarm.why == Why::kPlanStep) return place.apart ? Knowing::kApart : Knowing::kStep;
  if (course) return *course;
  // Counted from when it was told: what asks for a first look may have begun long before.
  const Instant told = std::max(alarm.since, alarm.raised);
  const bool long_ago = at - std::max(told, alarm.taken.value_or(told)) >= kHours;
  if (const auto said = Said(called)) return PassesSoon(*said) && long_ago ? Knowing::kLong : *said;
  if (alarm.cause) return Knowing::kWater;
  if (place.ready) return Knowing::kReady;
  // That a door may be ajar is a guess, which hours disprove; and wheels that are near their end do not wait for it.
  const auto seen = Seen(alarm, standing);
  const bool doubted = seen == Knowing::kAjar && (at - told >= kHours || Presses(alarm));
  if (seen && !doubted) return *seen;
  if (at - told >= kHours) return Knowing::kLong;
  return Presses(alarm) ? Knowing::kPress : Knowing::kNothing;
}

bool IsOfWarmth(AlarmKind kind) { return kind == AlarmKind::kTooWarm || kind == AlarmKind::kTooCold; }

bool IsOfBand(AlarmKind kind) { return IsOfWarmth(kind) || kind == AlarmKind::kTooDry || kind == AlarmKind::kTooDamp; }

bool IsOfTurning(Why why) { return why == Why::kNotTurning || why == Why::kNotTurningYet; }

bool NeverLeft(const Alarm& alarm) {
  if (!IsOfTurning(alarm.why) || !alarm.band) return false;
  return alarm.kind == AlarmKind::kTooWarm   ? alarm.extreme <= alarm.band->high
         : alarm.kind == AlarmKind::kTooCold ? alarm.extreme >= alarm.band->low
                                             : false;
}

namespace {

// Of air that had left its band and lies inside again.
struct Return {
  double inwards;   // from the edge that it left
  double deadband;  // so far in it is back
  double edge;
  bool high;
};

std::optional<Return> ReturnOf(const Alarm& alarm, double value, const Settings& settings) {
  if (!IsOfBand(alarm.kind) || alarm.over || !alarm.band || alarm.why == Why::kOneProbe) return std::nullopt;
  const Figure& band = *alarm.band;
  const bool warm = alarm.kind == AlarmKind::kTooWarm || alarm.kind == AlarmKind::kTooCold;
  const bool high = alarm.kind == AlarmKind::kTooWarm || alarm.kind == AlarmKind::kTooDamp;
  const double edge = high ? band.high : band.low;
  const bool was_out = high ? alarm.extreme > edge : alarm.extreme < edge;
  const bool inside = value >= band.low && value <= band.high;
  if (!was_out || !inside) return std::nullopt;
  const double deadband = watch::DeadbandOf(warm ? ChannelKind::kTemperature : ChannelKind::kHumidity, band, settings);
  return Return{high ? edge - value : value - edge, deadband, edge, high};
}

}  // namespace

bool IsBackInside(const Alarm& alarm, double value, int trend, const Settings& settings) {
  const auto back = ReturnOf(alarm, value, settings);
  if (!back) return false;
  // What is drier than it used to be ends by what it used to be, and by no figure of the band.
  return alarm.why == Why::kBelowNormal || back->inwards >= back->deadband || trend == (back->high ? -1 : 1);
}

std::optional<double> EndsAt(const Alarm& alarm, double value, const Settings& settings) {
  const auto back = ReturnOf(alarm, value, settings);
  if (!back || back->inwards >= back->deadband || alarm.why == Why::kBelowNormal) return std::nullopt;
  return back->high ? back->edge - back->deadband : back->edge + back->deadband;
}

std::optional<Knowing> CourseOf(const Alarm& alarm, double value, int trend, const Settings& settings) {
  if (IsBackInside(alarm, value, trend, settings)) return Knowing::kBack;
  if (!IsOfBand(alarm.kind) || alarm.over || !alarm.band || alarm.why == Why::kOneProbe) return std::nullopt;
  const bool high = alarm.kind == AlarmKind::kTooWarm || alarm.kind == AlarmKind::kTooDamp;
  const bool out = high ? value > alarm.band->high : value < alarm.band->low;
  return out && trend == (high ? -1 : 1) ? std::optional(Knowing::kTurning) : std::nullopt;
}

}  // namespace rindwatch::rules
