#include "daemon/clock/leap.hpp"

#include <algorithm>
#include <iterator>

#include "daemon/clock/clocks.hpp"

namespace rindwatch {

namespace {
constexpr rules::Millis kTold = std::chrono::days{1};
}  // namespace

bool LeapWatch::Look(rules::Instant wall, rules::Millis monotonic, bool believed) {
  const bool leapt =
      shown_ && shown_->believed && believed && (wall - shown_->wall) - (monotonic - shown_->monotonic) >= kSoonMadeUp;
  if (leapt) Recall({shown_->wall, wall});
  shown_ = Shown{wall, monotonic, believed};
  return leapt;
}

void LeapWatch::Recall(const Leap& leap) {
  std::erase_if(leaps_, [&](const Leap& one) { return leap.to - one.to >= kTold; });
  leaps_.push_back(leap);
}

std::optional<Leap> LeapWatch::Told(rules::Instant now) const {
  const std::vector<Leap> told = AllTold(now);
  return told.empty() ? std::nullopt : std::optional(told.back());
}

std::vector<Leap> LeapWatch::AllTold(rules::Instant now) const {
  std::vector<Leap> told;
  // A clock that was set back again shows that it never was.
  std::ranges::copy_if(leaps_, std::back_inserter(told),
                       [now](const Leap& leap) { return now >= leap.to && now - leap.to < kTold; });
  return told;
}

}  // namespace rindwatch
