// `rindwatch check`: is the configuration sound and, where there is a database, does it agree with its journal?
#pragma once

#include "daemon/config/config.hpp"

namespace rindwatch {

// Prints what it finds; true if all is well. Only looks: it works beside a running daemon.
bool RunCheck(const ConfigReading& reading, bool as_json);

}  // namespace rindwatch
