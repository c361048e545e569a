// Where the configuration is looked for.
#pragma once

#include <string>

#include "daemon/config/config.hpp"

namespace rindwatch {

// For the help: "$RINDWATCH_CONFIG, ./rindwatch.toml, ...".
std::string ConfigPlaces();

// The file that --config names, else the variable, else the usual places; none: all settings as they come.
std::string ConfigPath(const std::string& named);

// Where none was found and something else is missing for want of it: that, and where it was looked for, behind a space.
std::string WhereLooked(const Config& config);

}  // namespace rindwatch
