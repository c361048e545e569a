// Air with water in it: the physics that the fridge's parts share. Temperatures in degrees Celsius, vapour in kg/m3.
// It stands apart from the rules' formulas on purpose: what is judged is not made by the judge's own arithmetic.
#pragma once

namespace rindwatch::sensors::simulated {

// Buck, "New equations for computing vapor pressure and enhancement factor", J. Appl. Meteorol. 20 (1981), in Pa.
double SaturationPressureOverWater(double celsius);
double SaturationPressureOverIce(double celsius);
// Of vapour over a surface that is water above 0 and ice below, kg/m3.
double SaturationDensity(double celsius);
// Of vapour over water at any temperature, which is what relative humidity refers to, kg/m3.
double SaturationDensityOverWater(double celsius);
// In percent, not clipped: above 100 the air is a mist.
double RelativeHumidityOf(double vapour_density, double celsius);

// Constant over the few kelvins of a ripening fridge, so that heat and water balance exactly.
inline constexpr double kEvaporationHeat = 2.472e6;  // J/kg, of water at 12 °C
inline constexpr double kFusionHeat = 3.337e5;       // J/kg
inline constexpr double kAirHeatPerVolume = 1240.0;  // J/(m3 K): 1.232 kg/m3 at 12 °C and 1013 hPa, 1006 J/(kg K)
// A convective coefficient in W/(m2 K) divided by this is the mass transfer coefficient in m/s: Lewis' relation with
// the two thirds power of the Lewis number of water in air, 0.91.
inline constexpr double kLewisHeat = kAirHeatPerVolume * 0.91;

// Well mixed air of one volume.
struct AirNode {
  double volume = 0;  // m3
  double celsius = 0;
  double vapour = 0;  // kg of it in all

  double HeatCapacity() const { return volume * kAirHeatPerVolume; }
  double VapourDensity() const { return vapour / volume; }
  double RelativeHumidity() const { return RelativeHumidityOf(VapourDensity(), celsius); }
  void AddHeat(double joules) { celsius += joules / HeatCapacity(); }
};
AirNode MakeAir(double volume, double celsius, double relative_humidity);

// Air changes places between two volumes at `flow` m3/s for `seconds`; heat and vapour go along, nothing is lost, and
// neither side passes the other.
void Mix(AirNode& a, AirNode& b, double flow, double seconds);

}  // namespace rindwatch::sensors::simulated
