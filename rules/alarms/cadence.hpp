// How often a channel speaks, learned from its last gaps; and from when it counts as missed.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch::rules::watch {

// The second longest of the last eight gaps: one drop-out teaches nothing, a probe that speaks only on change or has
// been set to another pace is understood after a few readings. Until nine readings have told, no pace faster than the
// assumed one is believed: who tries a new probe out sends a few messages in a row.
class Cadence {
 public:
  void Learn(Millis gap);
  Millis Interval() const { return interval_; }
  // From the last reading: three readings that did not come, and half an interval of grace for jitter.
  Millis MissedAfter() const { return missed_after_; }

  // Oldest first.
  std::vector<std::int64_t> Gaps() const;
  static Cadence FromGaps(const std::vector<std::int64_t>& gaps);

  Cadence();

 private:
  static constexpr std::size_t kGaps = 8;
  void Settle();

  std::array<std::int64_t, kGaps> gaps_{};  // milliseconds
  std::size_t count_ = 0, next_ = 0;
  Millis interval_{}, missed_after_{};
};

}  // namespace rindwatch::rules::watch
