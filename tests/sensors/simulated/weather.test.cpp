#include "sensors/simulated/weather.hpp"

#include <algorithm>

#include "sensors/simulated/moist_air.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;

TEST_CASE("the room is warmest in the afternoon and coldest before dawn") {
  RoomSpec still;
  still.slow_swing = 0;
  Weather weather{still, 0s, Random{1, 1}};
  const double night = weather.At(4h).celsius;
  const double afternoon = weather.At(16h).celsius;
  CHECK(afternoon - night == Approx(2 * still.day_swing));
}

TEST_CASE("a start at another time of day shifts the swing with it") {
  RoomSpec still;
  still.slow_swing = 0;
  Weather at_noon{still, 12h, Random{1, 1}};
  CHECK(at_noon.At(4h).celsius == Approx(still.mean_celsius + still.day_swing));
}

TEST_CASE("the weather drifts over days within bounds, without jumps, and never beyond saturation") {
  const RoomSpec spec;
  Weather weather{spec, 0s, Random{3, 1}};
  double low = 99, high = -99, last = weather.At(0s).celsius, jump = 0;
  for (auto at = 0s; at < 24h * 60; at += 60s) {
    const RoomAir air = weather.At(at);
    low = std::min(low, air.celsius);
    high = std::max(high, air.celsius);
    jump = std::max(jump, std::abs(air.celsius - last));
    last = air.celsius;
    if (RelativeHumidityOf(air.vapour_density, air.celsius) > 98.1) FAIL("the room is a mist");
  }
  CHECK(low > spec.mean_celsius - spec.day_swing - 2.5 * spec.slow_swing - 0.01);
  CHECK(high < spec.mean_celsius + spec.day_swing + 2.5 * spec.slow_swing + 0.01);
  CHECK(high - low > 2 * spec.day_swing);
  CHECK(jump < 0.2);
}
