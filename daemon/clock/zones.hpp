// Zone values for the rules, from the machine's zone database.
#pragma once

#include <string>

#include "rules/time.hpp"

namespace rindwatch {

// `name` as in the IANA database, with its transitions from 1990 to 2100. Throws std::runtime_error with a sentence.
rules::Zone LoadZone(const std::string& name);
// The machine's own zone; "UTC" if it names none.
std::string MachineZoneName();

}  // namespace rindwatch
