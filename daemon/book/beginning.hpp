// What an act begins: the record of a start that follows from it, kept with the act as one of "begins".
#pragma once

#include <boost/json.hpp>

#include "rules/plans/plan.hpp"
#include "rules/time.hpp"

namespace rindwatch {

// `reckoned`: the day is proposed, not seen. `wheels` are their numbers.
boost::json::object Beginning(rules::StartKind start, rules::Date day, bool reckoned, boost::json::array wheels);

}  // namespace rindwatch
