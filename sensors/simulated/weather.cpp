#include "sensors/simulated/weather.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sensors/simulated/moist_air.hpp"

namespace rindwatch::sensors::simulated {

namespace {

constexpr std::chrono::seconds kPoint = std::chrono::minutes{10};
constexpr double kDay = 86400;
constexpr double kWarmest = 16 * 3600;
// Deviations beyond this are cut: a heat wave is typed in, not drawn.
constexpr double kFurthest = 2.5;

}  // namespace

Weather::Weather(const RoomSpec& spec, std::chrono::seconds starts_at, Random random)
    : spec_(spec),
      starts_at_(starts_at),
      random_(random),
      kept_(std::exp(-static_cast<double>(kPoint.count()) /
                     static_cast<double>(std::chrono::seconds{spec.weather_lasts}.count()))) {
  from_ = {random_.Normal(), random_.Normal()};
  to_ = Next(from_);
}

Weather::Point Weather::Next(const Point& from) {
  const double fresh = std::sqrt(1 - kept_ * kept_);
  const auto walk = [&](double value) {
    return std::clamp(kept_ * value + fresh * random_.Normal(), -kFurthest, kFurthest);
  };
  const double temperature = walk(from.temperature);
  return {temperature, walk(from.humidity)};
}

RoomAir Weather::At(std::chrono::seconds at) {
  while (at >= from_at_ + kPoint) {
    from_at_ += kPoint;
    from_ = to_;
    to_ = Next(to_);
  }
  const double share = static_cast<double>((at - from_at_).count()) / static_cast<double>(kPoint.count());
  const auto between = [&](double a, double b) { return a + share * (b - a); };
  const double hour_angle = 2 * std::numbers::pi * (static_cast<double>((at + starts_at_).count()) - kWarmest) / kDay;
  const double celsius = spec_.mean_celsius + spec_.day_swing * std::cos(hour_angle) +
                         spec_.slow_swing * between(from_.temperature, to_.temperature);
  // A day's warming leaves the water in the air as it was, so the density follows the weather alone.
  const double humidity = spec_.mean_humidity + spec_.humidity_swing * between(from_.humidity, to_.humidity);
  const double density = SaturationDensityOverWater(spec_.mean_celsius) * humidity / 100;
  return {celsius, std::min(density, SaturationDensityOverWater(celsius) * 0.98)};
}

}  // namespace rindwatch::sensors::simulated
