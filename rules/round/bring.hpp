// What to bring: for what is left of a round.
#pragma once

#include <optional>
#include <vector>

#include "rules/round/round.hpp"
#include "rules/wash/mixing.hpp"

namespace rindwatch::rules {

// In the order in which they are named.
enum class Tool { kSoftBrush, kBrush, kOwnBrush, kNeedle, kOil, kWax, kPaper, kScale, kTrier, kDryBoards, kSalt };
inline constexpr Tool kLastTool = Tool::kSalt;
std::string_view ToText(Tool tool);  // "soft brush"

// One mixing, for one age group's wheels alone, and poured away after them.
struct BringWash {
  Wash recipe;
  Mixing mixing;
  int wheels = 0;
  std::size_t section = 0;         // the first
  std::vector<RoundPlace> places;  // where these wheels lie, each once, in working order
};

struct Bring {
  std::vector<BringWash> washes;  // in working order
  int cloths = 0;
  std::vector<Tool> tools;
  bool two_people = false;
  bool mask = false;  // mite dust
};

Bring BringFor(const Round& round);
// For some of its lines alone, by their place in the round.
Bring BringFor(const Round& round, const std::vector<std::size_t>& lines);

}  // namespace rindwatch::rules
