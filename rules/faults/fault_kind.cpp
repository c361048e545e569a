#include <array>
#include <utility>

#include "rules/faults/fault_kind.hpp"

namespace rindwatch::rules {
namespace {

// Stored and sent by these texts: they never change.
constexpr std::array<std::pair<FaultKind, std::string_view>, 9> kFaults{
    {{FaultKind::kCrack, "crack"},
     {FaultKind::kSlime, "slime"},
     {FaultKind::kBlueSpot, "blue spot"},
     {FaultKind::kBulge, "bulge"},
     {FaultKind::kMiteDust, "mite dust"},
     {FaultKind::kSoft, "soft"},
     {FaultKind::kSticks, "sticks"},
     {FaultKind::kSmell, "smell"},
     {FaultKind::kSomethingElse, "something else"}}};

}  // namespace

std::string_view ToText(FaultKind fault) {
  for (const auto& [known, text] : kFaults) {
    if (known == fault) return text;
  }
  return "unknown";
}

std::optional<FaultKind> FaultKindFrom(std::string_view text) {
  for (const auto& [fault, known] : kFaults) {
    if (known == text) return fault;
  }
  return std::nullopt;
}

int GravityOf(FaultKind fault) {
  switch (fault) {
    case FaultKind::kMiteDust:
      return 8;
    case FaultKind::kBlueSpot:
      return 7;
    case FaultKind::kSlime:
      return 6;
    case FaultKind::kBulge:
      return 5;
    case FaultKind::kSoft:
      return 4;
    case FaultKind::kCrack:
      return 3;
    case FaultKind::kSmell:
      return 2;
    case FaultKind::kSticks:
      return 1;
    case FaultKind::kSomethingElse:
      return 0;
  }
  return 0;
}

}  // namespace rindwatch::rules
