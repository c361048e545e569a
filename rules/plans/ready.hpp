// When a wheel can be ready: a window, never a day.
#pragma once

#include <span>
#include <string_view>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// In days from the plan's `ready_from`: of the road that the answers to the plan's branches chose (the last to name one
// of a branch's options counts for it, a later part's road before an earlier one's), else as the plan says; none: the
// plan does not say. Lives as long as the plan.
const std::optional<Figure>& ReadyDays(const Plan& plan, std::span<const std::string_view> answers);

}  // namespace rindwatch::rules
