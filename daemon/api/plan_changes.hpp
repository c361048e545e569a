// What differs between two versions of a plan, in words.
#pragma once

#include <string>
#include <vector>

#include "daemon/words/words.hpp"
#include "rules/plans/difference.hpp"

namespace rindwatch {

// "brush, turn: every 7 days, was 14"
std::string ChangeWords(const Words& words, const rules::PlanChange& change);
// "turn every 2 days", "turn, wash"
std::string KindsWords(const Words& words, const std::vector<rules::CareKind>& kinds);
std::string CadenceWords(const Words& words, const rules::Cadence& cadence);

}  // namespace rindwatch
