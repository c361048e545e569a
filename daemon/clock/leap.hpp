// A wall clock that went on by far more than time did.
#pragma once

#include <optional>
#include <vector>

#include "rules/clock.hpp"

namespace rindwatch {

// From what a clock showed to what it showed a moment later: it was set forward, or the machine slept.
struct Leap {
  rules::Instant from, to;
};

// Is shown the clock again and again. One thread at a time.
class LeapWatch {
 public:
  // What both clocks show. `believed`: the wall is right; one that was not at the last look is only put right. Whether
  // it has leapt since that look.
  bool Look(rules::Instant wall, rules::Millis monotonic, bool believed);
  // One of an earlier life.
  void Recall(const Leap& leap);
  // The last leap, told for a day after it; none: there was none.
  std::optional<Leap> Told(rules::Instant now) const;
  // All that are told, in the order in which they were seen.
  std::vector<Leap> AllTold(rules::Instant now) const;

 private:
  struct Shown {
    rules::Instant wall;
    rules::Millis monotonic;
    bool believed;
  };
  std::optional<Shown> shown_;
  std::vector<Leap> leaps_;
};

}  // namespace rindwatch
