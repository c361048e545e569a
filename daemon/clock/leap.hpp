// A wall clock that went on by far more than time did.
#pragma once

#include <optional>

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
  void Recall(const Leap& leap) { leap_ = leap; }
  // The last leap, told for a day after it; none: there was none.
  std::optional<Leap> Told(rules::Instant now) const;

 private:
  struct Shown {
    rules::Instant wall;
    rules::Millis monotonic;
    bool believed;
  };
  std::optional<Shown> shown_;
  std::optional<Leap> leap_;
};

}  // namespace rindwatch
