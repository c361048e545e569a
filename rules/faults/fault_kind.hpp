// What can be seen, felt or smelt on a rind: the causes are many, the pictures few.
#pragma once

#include <optional>
#include <string_view>

namespace rindwatch::rules {

// Stored by their text.
enum class FaultKind { kCrack, kSlime, kBlueSpot, kBulge, kMiteDust, kSoft, kSticks, kSmell, kSomethingElse };
inline constexpr FaultKind kLastFaultKind = FaultKind::kSomethingElse;
std::string_view ToText(FaultKind fault);  // "mite dust"
std::optional<FaultKind> FaultKindFrom(std::string_view text);

// Of several faults the gravest speaks for all: the higher the graver, no two alike.
int GravityOf(FaultKind fault);

}  // namespace rindwatch::rules
