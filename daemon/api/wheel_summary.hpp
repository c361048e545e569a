// A wheel in a list, and what the list and the wheel's own page both ask of it.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/ahead/ready.hpp"

namespace rindwatch {

std::optional<rules::Date> MadeOn(const WheelRow& wheel);
// Where the wheel lies, as known now.
std::vector<rules::ReadyWindow> ReadyWindowsOf(const ApiContext& context, const WheelRow& wheel);
// Its first window has begun.
bool IsReady(const ApiContext& context, const WheelRow& wheel);
rules::Schedule ScheduleOf(const ApiContext& context, const WheelRow& wheel);
boost::json::object WheelSummary(const ApiContext& context, const WheelRow& wheel, const rules::Schedule& schedule);

}  // namespace rindwatch
