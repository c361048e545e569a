// By what an alarm ended, where its air did not come back by enough. The rules say what it was; the words are worked
// out from the book, on the loop's thread.
#pragma once

#include <string>

#include "daemon/api/context.hpp"

namespace rindwatch {

// Of a step of a plan "1 washed rind, Box 3: another stage. From then on 6.5 to 13.5 °C was asked. Still out of its
// band: Box 3."; of an alarm of the air whose wheels went "3 blue, Blues: carried to Cellar."; of one whose air has
// long stayed inside "It ended by 24 h within its band, though near the edge of it."; of what nobody judges any more
// why. Empty: it lasts, or came back by enough.
std::string EndingWords(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
