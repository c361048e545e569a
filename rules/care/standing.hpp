// Where a wheel stands in its plan, once it is known what its stages are.
#pragma once

#include "rules/care/schedule.hpp"
#include "rules/care/timeline.hpp"

namespace rindwatch::rules {

Standing StandingOn(const Known& known, const Timeline& timeline, Date day);

}  // namespace rindwatch::rules
