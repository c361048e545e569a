// A plan as JSON, whole.
#pragma once

#include <boost/json.hpp>

#include "rules/plans/plan.hpp"

namespace rindwatch {

// `text` is its file.
boost::json::object PlanTextJson(const rules::Plan& plan, std::string text);

}  // namespace rindwatch
