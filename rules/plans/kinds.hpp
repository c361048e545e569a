// Lists of kinds, which are short.
#pragma once

#include <algorithm>
#include <vector>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

inline bool Contains(const std::vector<CareKind>& kinds, CareKind kind) {
  return std::ranges::find(kinds, kind) != kinds.end();
}

inline bool ShareAny(const std::vector<CareKind>& some, const std::vector<CareKind>& others) {
  return std::ranges::any_of(some, [&](CareKind kind) { return Contains(others, kind); });
}

}  // namespace rindwatch::rules
