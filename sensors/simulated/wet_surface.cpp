#include "sensors/simulated/wet_surface.hpp"

#include <algorithm>

namespace rindwatch::sensors::simulated {

namespace {

// Below this much water a surface is only partly covered and gives off in proportion, kg/m2: a film of 0.03 mm.
constexpr double kWholeFilm = 0.03;

}  // namespace

void WetSurface::Exchange(AirNode& air, double film, double convective, double seconds) {
  const double together = 1 / (1 / heat_capacity + 1 / air.HeatCapacity());
  const double passed = std::min(film * area * seconds, together) * (air.celsius - celsius);
  air.AddHeat(-passed);
  AddHeat(passed);
  ExchangeVapour(air, convective, seconds);
  ChangePhase();
}

void WetSurface::CatchMist(AirNode& air) {
  const double surplus = air.vapour - air.volume * SaturationDensityOverWater(air.celsius);
  if (surplus <= 0) return;
  air.vapour -= surplus;
  liquid += surplus;
  AddHeat(surplus * kEvaporationHeat);
}

void WetSurface::ExchangeVapour(AirNode& air, double convective, double seconds) {
  const double drive = air.VapourDensity() - SaturationDensity(celsius);
  const double swept = std::min(convective / kLewisHeat * area * seconds, air.volume);
  if (drive > 0) {
    const double settled = swept * drive;
    air.vapour -= settled;
    liquid += settled;
    AddHeat(settled * kEvaporationHeat);
    return;
  }
  const double water = liquid + frost;
  if (water <= 0) return;
  const double covered = std::min(1.0, water / (kWholeFilm * area));
  const double left = std::min(-drive * swept * covered, water);
  const double from_liquid = std::min(left, liquid);
  air.vapour += left;
  liquid -= from_liquid;
  frost -= left - from_liquid;
  AddHeat(-left * kEvaporationHeat - (left - from_liquid) * kFusionHeat);
}

void WetSurface::ChangePhase() {
  if (celsius > 0 && frost > 0) {
    const double melted = std::min(frost, heat_capacity * celsius / kFusionHeat);
    frost -= melted;
    liquid += melted;
    AddHeat(-melted * kFusionHeat);
  } else if (celsius < 0 && liquid > 0) {
    const double frozen = std::min(liquid, -heat_capacity * celsius / kFusionHeat);
    liquid -= frozen;
    frost += frozen;
    AddHeat(frozen * kFusionHeat);
  }
}

double WetSurface::DrainBeyond(double held) {
  const double drained = std::max(0.0, liquid - held);
  liquid -= drained;
  return drained;
}

}  // namespace rindwatch::sensors::simulated
