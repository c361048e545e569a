// The first three things to do about an alarm, in words: one list for page, letter and list. The loop's thread.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Three at most; empty of a kind that asks for nothing.
std::vector<std::string> FirstThings(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
