#include "rules/wheels/rind.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

// Percent of humidity over which a rind is in balance: its water activity, young and moist 0.94 to 0.98 (J. Dairy Sci.
// 2013 on mould rinds); drier rinds hold less, which their share of evaporation already says.
constexpr double kRindBalance = 97;
// rho_s over d(rho_s)/dT at 12 degrees, K: what the vapour of saturation doubles in.
constexpr double kWetScale = 16.0;
// Drier air than this is the fault of a probe more often than not, and would promise the wheel too much.
constexpr double kDriestBelieved = 75;

}  // namespace

double RindAir::Film() const {
  const double bare = kRadiativeFilm + kConvectiveFilm * (1 + kWetSlope * evaporates);
  return boxed ? (kRadiativeFilm + kConvectiveFilm) / 2 : bare;
}

Kelvins RindAir::BelowAir(RelativeHumidity humidity) const {
  if (boxed) return {0};
  const double lacking = (kRindBalance - std::max(kDriestBelieved, humidity.percent)) / 100;
  return {std::max(0.0, evaporates * kWetSlope * kConvectiveFilm * kWetScale * lacking / Film())};
}

}  // namespace rindwatch::rules
