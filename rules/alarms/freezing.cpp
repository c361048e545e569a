#include "rules/alarms/freezing.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules::watch {

std::optional<double> FallOf(const AirMean& air) {
  if (!air.settled || !air.mean || !air.recent || !air.before || air.window_minutes <= 0) return std::nullopt;
  // The last third of the window lies by a third of it later than the middle of the whole.
  const double window = air.window_minutes, lately = (*air.mean - *air.recent) / (window / 3);
  const double over_windows = (*air.before - *air.mean) / window;
  const double fall = std::min(lately, over_windows);
  return fall > 0 ? std::optional(fall) : std::nullopt;
}

std::optional<Millis> FreezesAfter(const AirMean& air, double freezing) {
  constexpr double kADay = 24 * 60;
  const auto fall = FallOf(air);
  if (!fall) return std::nullopt;
  const double left = std::max(0.0, air.last.value_or(*air.recent) - freezing) / *fall;
  if (left > kADay) return std::nullopt;
  return Millis{std::chrono::minutes{std::lround(left)}};
}

bool IsBackWithin(const AirMean& air, double edge, int sign, Millis span) {
  if (!air.mean || !air.recent || air.window_minutes <= 0) return false;
  const double pace = sign * (*air.mean - *air.recent) / (air.window_minutes / 3.0);
  if (pace <= 0) return false;
  const bool comes_up = air.before && air.long_before && *air.before > *air.long_before;
  if (sign < 0 && !comes_up) return false;
  const double left = sign * (air.last.value_or(*air.recent) - edge) / pace;
  return left <= static_cast<double>(span / std::chrono::minutes{1});
}

}  // namespace rindwatch::rules::watch
