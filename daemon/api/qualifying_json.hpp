// What the page shows of the days that count for the law.
#pragma once

#include <boost/json.hpp>

#include "daemon/api/qualifying_age.hpp"
#include "daemon/api/views.hpp"

namespace rindwatch {

// Of a wheel that has a rule.
boost::json::object QualifyingJson(const ApiContext& context, const WheelRow& wheel, const rules::QualifyingAge& age);

// The wheels with the sums of those that have a rule; their days stand on the page of each.
void WheelsWithAgesJson(const ApiContext& context, JsonDone done);

// Whether the window in which a wheel is ready closes before the first lawful day; unknown days are no reason to say
// so.
bool ClosesBeforeLawful(const std::optional<rules::Date>& lawful, const std::optional<rules::Date>& ready_to);

}  // namespace rindwatch
