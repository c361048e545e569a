// `rindwatch check`: is the configuration sound and, where there is a database, does it agree with its journal?
#pragma once

#include <string>

#include "daemon/config/config.hpp"

namespace rindwatch {

// Prints what it finds; true if all is well. Only looks: it works beside a running daemon.
bool RunCheck(const ConfigReading& reading, bool as_json);
// The same for one file of an ageing plan; every fault with its line and field.
bool CheckPlanFile(const std::string& path, bool as_json);

}  // namespace rindwatch
