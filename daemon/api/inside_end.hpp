// Of an alarm of the air that is over though its mean never came back to where it ends: by what it ended.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// "It ended by a day within its band, though near the edge of it."; empty: it ended otherwise, or lasts.
std::string InsideEndWords(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
