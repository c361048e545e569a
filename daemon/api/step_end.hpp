// Why a cave no longer asks for the air that an alarm of its band told of. Worked out from the book; the loop's thread.
#pragma once

#include <string>

#include "daemon/api/context.hpp"

namespace rindwatch {

// "1 washed rind, Box 3: another stage. From then on 6.5 to 13.5 °C was asked. Still out of its band: Box 3." Of any
// alarm of a band whose wheels went: "3 blue, Blues: carried to Cellar." Empty: it ended otherwise.
std::string StepEndWords(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
