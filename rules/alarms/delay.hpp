// A delay that counts only the time beyond a limit.
#pragma once

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {

struct Delay {
  Millis beyond{0};  // counted so far
  Millis inside{0};  // since it was last beyond

  void Count(bool is_beyond, Millis span) {
    if (is_beyond) {
      beyond += span;
      inside = Millis{0};
    } else if (beyond > Millis{0}) {
      inside += span;
      if (inside >= kPause) *this = {};
    }
  }
  bool operator==(const Delay&) const = default;
};

}  // namespace rindwatch::rules::watch
