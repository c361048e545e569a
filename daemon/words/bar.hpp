// What bars lines of the round, and how that is said.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "daemon/words/words.hpp"

namespace rindwatch {

enum class Bar { kGas, kPower };  // people come before cheese
std::string_view ToText(Bar bar);

// Lines that are due and barred.
struct BarredLines {
  std::size_t gas = 0, power = 0;
  bool Any() const { return gas + power > 0; }
};
// "Two not now: gas first. One not now: power first."; empty: nothing is barred.
std::string BarredWords(const Words& words, const BarredLines& barred);

}  // namespace rindwatch
