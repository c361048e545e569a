#include "rules/alarms/cadence.hpp"

#include <algorithm>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// Two channels of one message may arrive a moment apart; that is no pace.
constexpr Millis kNoPace{500};

}  // namespace

Cadence::Cadence() { Settle(); }

void Cadence::Learn(Millis gap) {
  if (gap < kNoPace) return;
  gaps_[next_] = std::min(gap, kLongestInterval).count();
  next_ = (next_ + 1) % kGaps;
  count_ = std::min(count_ + 1, kGaps);
  Settle();
}

void Cadence::Settle() {
  std::int64_t longest = 0, second = 0;
  for (std::size_t i = 0; i < count_; ++i) {
    second = std::max(second, std::min(longest, gaps_[i]));
    longest = std::max(longest, gaps_[i]);
  }
  const Millis learned{count_ == 1 ? longest : second};
  interval_ = count_ < kGaps ? std::max(learned, kAssumedInterval) : learned;
  missed_after_ = std::max(kShortestMissed, kMissedReadings * interval_ + interval_ / 2);
}

std::vector<std::int64_t> Cadence::Gaps() const {
  std::vector<std::int64_t> gaps;
  for (std::size_t i = 0; i < count_; ++i) gaps.push_back(gaps_[(next_ + kGaps - count_ + i) % kGaps]);
  return gaps;
}

Cadence Cadence::FromGaps(const std::vector<std::int64_t>& gaps) {
  Cadence cadence;
  for (const std::int64_t gap : gaps) cadence.Learn(Millis{gap});
  return cadence;
}

}  // namespace rindwatch::rules::watch
