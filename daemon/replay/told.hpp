// What the journal says that rang, read back into alarms.
#pragma once

#include <map>
#include <string>

#include "daemon/book/line.hpp"
#include "daemon/replay/rung.hpp"

namespace rindwatch {

// A line of the kind "alarm", back into the decision that wrote it. Throws std::exception or ActFault on a body that
// the watch did not write.
rules::Decision DecisionFrom(const JournalLine& line);

}  // namespace rindwatch
