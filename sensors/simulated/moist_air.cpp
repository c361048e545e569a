#include "sensors/simulated/moist_air.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::sensors::simulated {

namespace {

constexpr double kVapourGasConstant = 461.5;  // J/(kg K)
constexpr double kKelvin = 273.15;

double DensityOf(double pressure, double celsius) { return pressure / (kVapourGasConstant * (celsius + kKelvin)); }

}  // namespace

double SaturationPressureOverWater(double celsius) { return 611.21 * std::exp(17.502 * celsius / (240.97 + celsius)); }

double SaturationPressureOverIce(double celsius) { return 611.15 * std::exp(22.452 * celsius / (272.55 + celsius)); }

double SaturationDensity(double celsius) {
  return DensityOf(celsius < 0 ? SaturationPressureOverIce(celsius) : SaturationPressureOverWater(celsius), celsius);
}

double SaturationDensityOverWater(double celsius) { return DensityOf(SaturationPressureOverWater(celsius), celsius); }

double RelativeHumidityOf(double vapour_density, double celsius) {
  return 100 * vapour_density / SaturationDensityOverWater(celsius);
}

AirNode MakeAir(double volume, double celsius, double relative_humidity) {
  return {volume, celsius, volume * SaturationDensityOverWater(celsius) * relative_humidity / 100};
}

void Mix(AirNode& a, AirNode& b, double flow, double seconds) {
  const double smaller = a.volume * b.volume / (a.volume + b.volume);
  const double moved = std::min(flow * seconds, smaller);
  const double heat = moved * kAirHeatPerVolume * (a.celsius - b.celsius);
  const double vapour = moved * (a.VapourDensity() - b.VapourDensity());
  a.AddHeat(-heat);
  b.AddHeat(heat);
  a.vapour -= vapour;
  b.vapour += vapour;
}

}  // namespace rindwatch::sensors::simulated
