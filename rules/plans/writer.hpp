// A plan as the text of a plan file.
#pragma once

#include <string>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// Reads back as an equal plan.
std::string WritePlan(const Plan& plan);

}  // namespace rindwatch::rules
