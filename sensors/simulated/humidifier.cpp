#include "sensors/simulated/humidifier.hpp"

#include <algorithm>

namespace rindwatch::sensors::simulated {

double Humidifier::Step(AirNode& air, bool powered, bool dry, double seconds) {
  if (!spec_.fitted) return 0;
  const double humidity = air.RelativeHumidity();
  if (humidity < spec_.set_percent - spec_.hysteresis / 2) asks_ = true;
  if (humidity > spec_.set_percent + spec_.hysteresis / 2) asks_ = false;
  if (!asks_ || !powered || dry) return 0;
  const double lacking = SaturationDensityOverWater(air.celsius) - air.VapourDensity();
  const double given = std::max(0.0, lacking) * spec_.blown * seconds;
  air.vapour += given;
  air.AddHeat(-given * kEvaporationHeat);
  return given;
}

}  // namespace rindwatch::sensors::simulated
