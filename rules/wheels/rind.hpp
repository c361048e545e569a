// What the air does to a rind: how fast it warms it, and how far evaporation holds it below the air. Pure functions.
#pragma once

#include "rules/units.hpp"

namespace rindwatch::rules {

// W/(m2 K) in the still air of a fridge or a cave; together about 5 on a dry rind (trade: measured films of still air
// lie between 3 and 6, radiation included).
inline constexpr double kRadiativeFilm = 2.3;
inline constexpr double kConvectiveFilm = 2.7;
// Kelvins that evaporation adds to a kelvin of convection on a free wet face at 12 degrees: L d(rho_s)/dT over the heat
// of the air, by the analogy of heat and mass transfer (Lewis relation).
inline constexpr double kWetSlope = 1.39;

// How a rind meets the air, by the share of free evaporation that it lets through: soft 0.8, washed 0.4, hard 0.25
// (order of magnitude, from measured losses), waxed 0.
struct RindAir {
  double evaporates = 0.25;
  bool boxed = false;  // in a box without a probe: two films in a row, and air too damp to dry it

  // W/(m2 K) by which the wheel follows the air.
  double Film() const;
  // How far it comes to rest below air of this humidity. Never negative; air damper than the rind holds nothing.
  Kelvins BelowAir(RelativeHumidity humidity) const;
};

}  // namespace rindwatch::rules
