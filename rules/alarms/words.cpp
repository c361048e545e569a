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
  }
  return "";
}

std::optional<AlarmKind> AlarmKindFrom(std::string_view text) {
  return From(text, std::array{AlarmKind::kTooWarm, AlarmKind::kTooCold, AlarmKind::kTooDry, AlarmKind::kTooDamp,
                               AlarmKind::kProbeSilent});
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
    case Decision::Change::kOver:
      return "over";
  }
  return "";
}

}  // namespace rindwatch::rules
