// The words of the engine's enums, as they are stored and shown.
#include <array>
#include <utility>

#include "rules/alarms/engine.hpp"

namespace rindwatch::rules {
namespace {

template <typename Enum, std::size_t N>
std::optional<Enum> From(std::string_view text, const std::array<Enum, N>& all) {
  for (const Enum value : all) {
    if (ToText(value) == text) return value;
  }
  return std::nullopt;
}

// The enums that count up from 0 to their last.
template <typename Enum>
std::optional<Enum> FromAll(std::string_view text, Enum last) {
  for (int i = 0; i <= static_cast<int>(last); ++i) {
    if (ToText(static_cast<Enum>(i)) == text) return static_cast<Enum>(i);
  }
  return std::nullopt;
}

}  // namespace

std::string_view ToText(AlarmKind kind) {
  switch (kind) {
    case AlarmKind::kTooWarm:
      return "too warm";
    case AlarmKind::kTooCold:
      return "too cold";
    case AlarmKind::kTooDry:
      return "too dry";
    case AlarmKind::kTooDamp:
      return "too damp";
    case AlarmKind::kProbeSilent:
      return "probe silent";
    case AlarmKind::kCondensation:
      return "condensation";
    case AlarmKind::kProbeStuck:
      return "probe stuck";
    case AlarmKind::kProbeWet:
      return "probe wet";
    case AlarmKind::kProbesDisagree:
      return "probes disagree";
    case AlarmKind::kBatteryLow:
      return "battery low";
    case AlarmKind::kPlantWeak:
      return "plant weak";
    case AlarmKind::kDoorOpen:
      return "door open";
    case AlarmKind::kPowerGone:
      return "power gone";
    case AlarmKind::kCarbonDioxide:
      return "carbon dioxide";
    case AlarmKind::kAmmonia:
      return "ammonia";
    case AlarmKind::kHumidifierDry:
      return "humidifier dry";
    case AlarmKind::kDrainBlocked:
      return "drain blocked";
    case AlarmKind::kUnwatched:
      return "unwatched";
  }
  return "";
}

std::optional<AlarmKind> AlarmKindFrom(std::string_view text) { return FromAll(text, kLastAlarmKind); }

std::string_view ToText(Why why) {
  switch (why) {
    case Why::kBand:
      return "band";
    case Why::kDose:
      return "dose";
    case Why::kPlanStep:
      return "plan step";
    case Why::kNotTurning:
      return "not turning";
    case Why::kNotTurningYet:
      return "not turning yet";
    case Why::kWheel:
      return "wheel";
    case Why::kOneProbe:
      return "one probe";
    case Why::kReadyCheese:
      return "ready cheese";
    case Why::kBelowNormal:
      return "below normal";
    case Why::kSlowFall:
      return "slow fall";
    case Why::kDayMeanUp:
      return "day mean up";
    case Why::kRunsOn:
      return "runs on";
    case Why::kStandsStill:
      return "stands still";
    case Why::kAfterRound:
      return "after round";
    case Why::kContact:
      return "contact";
    case Why::kTogether:
      return "together";
    case Why::kEverywhere:
      return "everywhere";
    case Why::kOnlyTheWatch:
      return "only the watch";
    case Why::kWarmedMeanwhile:
      return "warmed meanwhile";
    case Why::kUnheard:
      return "unheard";
    case Why::kFreezesSoon:
      return "freezes soon";
  }
  return "";
}

std::optional<Why> WhyFrom(std::string_view text) { return FromAll(text, kLastWhy); }

std::string_view ToText(Ending ending) {
  switch (ending) {
    case Ending::kReturned:
      return "returned";
    case Ending::kInside:
      return "inside";
    case Ending::kStruck:
      return "struck";
    case Ending::kTakenDown:
      return "taken down";
    case Ending::kAskedOtherwise:
      return "asked otherwise";
    case Ending::kNotAsked:
      return "not asked";
    case Ending::kNotKnown:
      return "not known";
  }
  return "";
}

std::optional<Ending> EndingFrom(std::string_view text) { return FromAll(text, kLastEnding); }

std::string_view ToText(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::kDefrost:
      return "defrost";
    case ShapeKind::kDoor:
      return "door";
    case ShapeKind::kDelivery:
      return "delivery";
    case ShapeKind::kYourRound:
      return "your round";
    case ShapeKind::kWarmed:
      return "warmed";
  }
  return "";
}

std::string_view ToText(Severity severity) {
  switch (severity) {
    case Severity::kHint:
      return "hint";
    case Severity::kWatch:
      return "watch";
    case Severity::kAct:
      return "act";
    case Severity::kUrgent:
      return "urgent";
  }
  return "";
}

std::optional<Severity> SeverityFrom(std::string_view text) {
  return From(text, std::array{Severity::kHint, Severity::kWatch, Severity::kAct, Severity::kUrgent});
}

std::string_view ToText(CaveState state) {
  switch (state) {
    case CaveState::kInBand:
      return "in band";
    case CaveState::kDrifting:
      return "drifting";
    case CaveState::kOutOfBand:
      return "out of band";
    case CaveState::kUnknown:
      return "unknown";
    case CaveState::kNotWatched:
      return "not watched";
  }
  return "";
}

int WeightOf(CaveState state) {
  switch (state) {
    case CaveState::kNotWatched:
      return 0;
    case CaveState::kInBand:
      return 1;
    case CaveState::kDrifting:
      return 2;
    case CaveState::kUnknown:
      return 3;
    case CaveState::kOutOfBand:
      return 4;
  }
  return 0;
}

std::string_view ToText(Decision::Change change) {
  switch (change) {
    case Decision::Change::kRaised:
      return "raised";
    case Decision::Change::kRaisedSeverity:
      return "raised severity";
    case Decision::Change::kTaken:
      return "taken";
    case Decision::Change::kSetAside:
      return "set aside";
    case Decision::Change::kBack:
      return "back";
    case Decision::Change::kStays:
      return "stays";
    case Decision::Change::kQuieted:
      return "quieted";
    case Decision::Change::kOver:
      return "over";
  }
  return "";
}

}  // namespace rindwatch::rules
