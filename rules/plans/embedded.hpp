// The texts of the plan library as the build embedded them.
#pragma once

#include <string_view>
#include <utility>
#include <vector>

namespace rindwatch::rules {

// File name and text, in the order in which the plans are offered.
std::vector<std::pair<std::string_view, std::string_view>> EmbeddedPlans();

}  // namespace rindwatch::rules
