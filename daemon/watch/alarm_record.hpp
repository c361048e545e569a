// An alarm as the journal keeps it.
#pragma once

#include <boost/json/object.hpp>

#include "rules/alarms/engine.hpp"

namespace rindwatch {

// The whole decision, with instants in milliseconds. Stored: fields are added, never renamed.
boost::json::object RecordOf(const rules::Decision& decision);
// The id of the journal's line: the same decision gives the same id, live, after a crash and in a replay.
std::string LineIdOf(const rules::Decision& decision);

}  // namespace rindwatch
