// A plan in the keeper's words, for the terminal.
#pragma once

#include <string>

#include "daemon/words/words.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch {

// The whole plan in at most 72 columns, a paragraph a part.
std::string PlanWords(const Words& words, const rules::Plan& plan);

}  // namespace rindwatch
