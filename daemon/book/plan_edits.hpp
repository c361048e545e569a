// The edits of a plan, as an act or a preview sends them.
#pragma once

#include <boost/json.hpp>
#include <vector>

#include "rules/plans/edit.hpp"

namespace rindwatch {

// Of the field "edits". Throws ActFault with the place in the list: "edits[2].set.every_days".
std::vector<rules::PlanEdit> PlanEditsFrom(const boost::json::object& body);

}  // namespace rindwatch
