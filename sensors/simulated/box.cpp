#include "sensors/simulated/box.hpp"

#include <algorithm>

namespace rindwatch::sensors::simulated {

namespace {

// The part of the film inside a box that carries vapour, W/(m2 K); the rest is radiation.
constexpr double kConvectiveInside = 2.5;

}  // namespace

Box::Box(const BoxSpec& box, double celsius, double relative_humidity)
    : spec(box),
      air(MakeAir(box.air_volume, celsius, relative_humidity)),
      wall{.heat_capacity = box.wall_heat, .area = box.wall_area, .celsius = celsius},
      lid(box.lid) {}

double Box::Gap(bool lifted) const {
  if (lifted) return spec.gap_off;
  switch (lid) {
    case Lid::kShut:
      return spec.gap_shut;
    case Lid::kAjar:
      return spec.gap_ajar;
    case Lid::kOff:
      return spec.gap_off;
  }
  return spec.gap_shut;
}

void Box::Exchange(AirNode& cabinet, bool lifted, double seconds) {
  Mix(air, cabinet, Gap(lifted), seconds);
  wall.Exchange(air, spec.film_inside, std::min(kConvectiveInside, spec.film_inside), seconds);
  wall.CatchMist(air);
  const double together = 1 / (1 / wall.heat_capacity + 1 / cabinet.HeatCapacity());
  const double passed = std::min(spec.film_outside * wall.area * seconds, together) * (cabinet.celsius - wall.celsius);
  cabinet.AddHeat(-passed);
  wall.AddHeat(passed);
}

}  // namespace rindwatch::sensors::simulated
