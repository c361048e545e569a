#include "daemon/clock/leap.hpp"

#include "daemon/clock/clocks.hpp"

namespace rindwatch {

bool LeapWatch::Look(rules::Instant wall, rules::Millis monotonic, bool believed) {
  const bool leapt =
      shown_ && shown_->believed && believed && (wall - shown_->wall) - (monotonic - shown_->monotonic) >= kSoonMadeUp;
  if (leapt) leap_ = Leap{shown_->wall, wall};
  shown_ = Shown{wall, monotonic, believed};
  return leapt;
}

std::optional<Leap> LeapWatch::Told(rules::Instant now) const {
  constexpr rules::Millis kTold = std::chrono::days{1};
  // A clock that was set back again shows that it never was.
  return leap_ && now >= leap_->to && now - leap_->to < kTold ? leap_ : std::nullopt;
}

}  // namespace rindwatch
