// "I have 15 minutes": what of a round cannot wait, and where the rest goes.
#pragma once

#include <functional>
#include <vector>

#include "rules/round/round.hpp"

namespace rindwatch::rules {

struct ShortRound {
  int asked = 0;                  // minutes
  int used = 0;                   // minutes, changes counted in
  std::vector<std::size_t> kept;  // indices into the round's lines, in working order
  struct Moved {
    std::size_t line = 0;
    Date to;
    bool leaves_window = false;
  };
  std::vector<Moved> moved;  // likewise
};

// What leaves its window first, and of that what the rind would miss most. What can wait goes to the day of its window
// that has the least to do, `minutes_on`; of days alike the earlier.
ShortRound Shorten(const Round& round, int minutes, const std::function<int(Date)>& minutes_on);

// How much a rind is harmed by a day's waiting: the higher the more (common practice, no source).
int HarmOfWaiting(const RoundLine& line);

}  // namespace rindwatch::rules
