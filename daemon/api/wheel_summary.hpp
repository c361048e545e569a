// A wheel in a list, and what the list and the wheel's own page both ask of it.
#pragma once

#include <boost/json.hpp>
#include <optional>

#include "daemon/api/context.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch {

std::optional<rules::Date> MadeOn(const WheelRow& wheel);
rules::Schedule ScheduleOf(const ApiContext& context, const WheelRow& wheel);
boost::json::object WheelSummary(const ApiContext& context, const WheelRow& wheel, const rules::Schedule& schedule);

}  // namespace rindwatch
