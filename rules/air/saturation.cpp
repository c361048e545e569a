#include "rules/air/saturation.hpp"

#include <cmath>

namespace rindwatch::rules {
namespace {

constexpr double kZeroCelsius = 273.15;  // kelvin

// Natural logarithm of the saturation pressure in pascals, `kelvin` absolute.
double LogOverIce(double kelvin) {
  return -5.6745359e3 / kelvin + 6.3925247 +
         kelvin * (-9.6778430e-3 + kelvin * (6.2215701e-7 + kelvin * (2.0747825e-9 + kelvin * -9.4840240e-13))) +
         4.1635019 * std::log(kelvin);
}

double LogOverWater(double kelvin) {
  return -5.8002206e3 / kelvin + 1.3914993 +
         kelvin * (-4.8640239e-2 + kelvin * (4.1764768e-5 + kelvin * -1.4452093e-8)) + 6.5459673 * std::log(kelvin);
}

double LogSaturation(double celsius) {
  const double kelvin = celsius + kZeroCelsius;
  return celsius < kTriplePoint.value ? LogOverIce(kelvin) : LogOverWater(kelvin);
}

}  // namespace

std::optional<Pascals> SaturationPressure(Celsius air) {
  if (!(air >= kColdestAir && air <= kHottestAir)) return std::nullopt;
  return Pascals{std::exp(LogSaturation(air.value))};
}

std::optional<Pascals> VapourPressure(Celsius air, RelativeHumidity humidity) {
  const auto saturated = SaturationPressure(air);
  if (!saturated || !(humidity.percent >= 0) || !std::isfinite(humidity.percent)) return std::nullopt;
  return Pascals{saturated->value * humidity.percent / 100.0};
}

std::optional<Celsius> DewPoint(Celsius air, RelativeHumidity humidity) {
  const auto vapour = VapourPressure(air, humidity);
  if (!vapour || vapour->value <= 0) return std::nullopt;
  const double wanted = std::log(vapour->value);
  double low = kColdestAir.value, high = kHottestAir.value;
  if (wanted < LogSaturation(low) || wanted > LogSaturation(high)) return std::nullopt;
  // The logarithm rises all the way (the two branches differ by less than a hundred-thousandth where they meet), so
  // halving always closes in; 60 halvings of 300 degrees are below a double's last digit.
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (LogSaturation(middle) < wanted ? low : high) = middle;
  }
  return Celsius{(low + high) / 2};
}

}  // namespace rindwatch::rules
