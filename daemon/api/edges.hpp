// What the air of both edges says of a time in which nothing spoke. The loop's thread.
#pragma once

#include <string>

#include "daemon/api/context.hpp"

namespace rindwatch {

// "It warmed: the plant was without power too, or did not run." Empty: it is no silence or power cut that is over, or
// the edges tell nothing: air that was out of its band before may have been warm already, as after another cut.
std::string EdgesSay(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
