// What can be seen, felt or smelt on a rind.
#pragma once

#include <optional>
#include <string_view>

namespace rindwatch::rules {

// Stored by their text.
enum class FaultKind { kCrack, kSlime, kBlueSpot, kBulge, kMiteDust, kSoft, kSticks, kSmell, kSomethingElse };
inline constexpr FaultKind kLastFaultKind = FaultKind::kSomethingElse;
std::string_view ToText(FaultKind kind);  // "mite dust"
std::optional<FaultKind> FaultKindFrom(std::string_view text);

// What gloves, cloth and brush would carry to other wheels: its wheels are worked last of the whole round.
bool Spreads(FaultKind kind);

}  // namespace rindwatch::rules
