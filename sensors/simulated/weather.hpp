// The air of the room that the fridge stands in: warmer by day than by night, with weather that drifts over days.
#pragma once

#include <chrono>

#include "sensors/simulated/random.hpp"

namespace rindwatch::sensors::simulated {

struct RoomSpec {
  double mean_celsius = 20.0;
  double day_swing = 1.6;                // K, half the way from night to day; warmest at 16:00
  double slow_swing = 1.1;               // K, deviation of the weather
  double mean_humidity = 60;             // percent at the mean temperature
  double humidity_swing = 6;             // points, deviation of the weather
  std::chrono::hours weather_lasts{40};  // after so long about a third of today's weather is left
};

struct RoomAir {
  double celsius = 0;
  double vapour_density = 0;  // kg/m3
};

// A first-order random walk held at ten-minute points and read between them by straight lines.
class Weather {
 public:
  // `starts_at`: the local time of day at second 0.
  Weather(const RoomSpec& spec, std::chrono::seconds starts_at, Random random);
  // Seconds since the start; never goes back.
  RoomAir At(std::chrono::seconds at);

 private:
  struct Point {
    double temperature = 0, humidity = 0;  // in deviations
  };
  Point Next(const Point& from);

  RoomSpec spec_;
  std::chrono::seconds starts_at_;
  Random random_;
  double kept_;  // share of a point that is left in the next one
  std::chrono::seconds from_at_{0};
  Point from_, to_;
};

}  // namespace rindwatch::sensors::simulated
