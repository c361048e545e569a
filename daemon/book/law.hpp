// A rule of qualifying age, as a keeper types it and as facts hold it.
#pragma once

#include <boost/json.hpp>

#include "rules/release/qualifying.hpp"

namespace rindwatch {

// {name, start, min_celsius, min_days, min_months, not_counting, vouching}; throws ActFault.
rules::QualifyingRule RuleFrom(const boost::json::object& rule);
boost::json::object RuleJson(const rules::QualifyingRule& rule);

}  // namespace rindwatch
