// Prints what the rules say of moist air, a line for each pair of the grid: degrees Celsius, percent, pascals of
// vapour, degrees of the dew point. A test holds it against another library.
#include <cstdio>

#include "rules/air/saturation.hpp"

int main() {
  for (int celsius = 2; celsius <= 25; ++celsius) {
    for (int percent = 40; percent <= 99; ++percent) {
      const rindwatch::rules::Celsius air{static_cast<double>(celsius)};
      const rindwatch::rules::RelativeHumidity humidity{static_cast<double>(percent)};
      const auto vapour = rindwatch::rules::VapourPressure(air, humidity);
      const auto dew = rindwatch::rules::DewPoint(air, humidity);
      if (!vapour || !dew) return 1;
      std::printf("%d,%d,%.9g,%.9g\n", celsius, percent, vapour->value, dew->value);
    }
  }
  return 0;
}
