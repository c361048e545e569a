#include "rules/away/leaving.hpp"

namespace rindwatch::rules {

std::string_view ToText(Harm harm) {
  switch (harm) {
    case Harm::kSlime:
      return "slime";
    case Harm::kSticks:
      return "sticks";
    case Harm::kDries:
      return "dries";
    case Harm::kCracks:
      return "cracks";
    case Harm::kLate:
      return "late";
  }
  return "late";
}

Harm HarmOf(RindClass rind, WheelState state, bool in_box, int misses) {
  if (misses < 2 || state == WheelState::kHolding) return Harm::kLate;
  const bool young = state == WheelState::kDrying || state == WheelState::kRindForming;
  switch (rind) {
    case RindClass::kFreshAndWhite:
      return young ? Harm::kSticks : Harm::kLate;
    case RindClass::kWashed:
      return in_box ? Harm::kSlime : Harm::kDries;
    case RindClass::kBlue:
      return in_box ? Harm::kSlime : Harm::kSticks;
    case RindClass::kNaturalAndPressed:
      break;
  }
  if (!young) return Harm::kLate;
  if (in_box) return Harm::kSlime;
  return state == WheelState::kDrying ? Harm::kSticks : Harm::kCracks;
}

}  // namespace rindwatch::rules
