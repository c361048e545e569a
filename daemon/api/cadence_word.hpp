// How often a care comes, in words.
#pragma once

#include <string>

#include "daemon/words/words.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch {

// "every 7 days", "twice a week"; nothing for what only comes along.
std::string CadenceWord(const Words& words, const rules::Cadence& cadence);

}  // namespace rindwatch
