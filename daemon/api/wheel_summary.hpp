// A wheel in a list, and what the list and the wheel's own page both ask of it.
#pragma once

#include <boost/json.hpp>
#include <optional>

#include "daemon/api/context.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch {

std::optional<rules::Date> MadeOn(const WheelRow& wheel);
// Day 0 of a part: as answered or reckoned, else as the plan's usual length gives from the part before.
rules::Date StartOfPart(const Book& book, const WheelRow& wheel, const rules::Plan& plan, std::size_t part,
                        rules::Date before);
rules::Schedule ScheduleOf(const ApiContext& context, const WheelRow& wheel);
boost::json::object WheelSummary(const ApiContext& context, const WheelRow& wheel, const rules::Schedule& schedule);

}  // namespace rindwatch
