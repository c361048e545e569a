#include "rules/round/fault_kind.hpp"

namespace rindwatch::rules {

std::string_view ToText(FaultKind kind) {
  switch (kind) {
    case FaultKind::kCrack:
      return "crack";
    case FaultKind::kSlime:
      return "slime";
    case FaultKind::kBlueSpot:
      return "blue spot";
    case FaultKind::kBulge:
      return "bulge";
    case FaultKind::kMiteDust:
      return "mite dust";
    case FaultKind::kSoft:
      return "soft";
    case FaultKind::kSticks:
      return "sticks";
    case FaultKind::kSmell:
      return "smell";
    case FaultKind::kSomethingElse:
      return "something else";
  }
  return "something else";
}

std::optional<FaultKind> FaultKindFrom(std::string_view text) {
  for (int number = 0; number <= static_cast<int>(kLastFaultKind); ++number) {
    const auto kind = static_cast<FaultKind>(number);
    if (ToText(kind) == text) return kind;
  }
  return std::nullopt;
}

bool Spreads(FaultKind kind) {
  return kind == FaultKind::kMiteDust || kind == FaultKind::kSlime || kind == FaultKind::kBlueSpot;
}

}  // namespace rindwatch::rules
