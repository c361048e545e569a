#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

std::optional<CareKind> BegunBy(const Part& part) {
  if (!part.question.empty()) return std::nullopt;
  switch (part.start) {
    case StartKind::kPierced:
      return CareKind::kPierce;
    case StartKind::kWrapped:
      return CareKind::kWrap;
    case StartKind::kWaxed:
      return CareKind::kWax;
    case StartKind::kMade:
    case StartKind::kSalted:
    case StartKind::kDry:
    case StartKind::kEnteredBox:
    case StartKind::kEnteredCave:
    case StartKind::kEnteredColdStore:
      return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules
