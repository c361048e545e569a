// By when a failing fridge can be told from a well one at the earliest, whatever the rule: by somebody who knows every
// rise of the same fridge's quiet time beforehand, as no rule does.
#pragma once

#include <optional>

#include "tests/bench/alarms/course.hpp"

namespace rindwatch::bench {

// What the air of a well fridge does: its means over ten minutes, as the probe says them.
struct Harmless {
  double usual = 100;     // degrees Celsius; above it an excursion begins
  double highest = -100;  // likewise
  int longest_turn = 0;   // minutes from the beginning of an excursion to its peak
};
Harmless HarmlessOf(const Course& course);

// The minute at which the air has first been higher, or has risen for longer, than it ever does while all is well;
// none: never.
std::optional<int> ToldApart(const Course& course, const Harmless& harmless);

}  // namespace rindwatch::bench
