// What a judge needs beside the book and the bytes: chance, and what only the store knows.
#pragma once

#include <map>
#include <string>

#include "rules/alarms/engine.hpp"
#include "rules/release/qualifying.hpp"

namespace rindwatch {

struct Beside {
  std::string secret;  // 128 fresh random bits, 32 hexadecimal digits
  // How far the qualifying age of the wheels that the act names is, by what was recorded around them.
  std::map<rules::WheelId, rules::QualifyingAge> ages;
};

}  // namespace rindwatch
