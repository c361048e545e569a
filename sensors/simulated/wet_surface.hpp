// A solid that air meets and water settles on: the liner, the walls of a box, the evaporator. A value.
#pragma once

#include "sensors/simulated/moist_air.hpp"

namespace rindwatch::sensors::simulated {

struct WetSurface {
  double heat_capacity = 0;  // J/K
  double area = 0;           // m2 towards the air
  double celsius = 0;
  double liquid = 0;  // kg on it
  double frost = 0;   // kg on it

  void AddHeat(double joules) { celsius += joules / heat_capacity; }
  // Heat in J that it holds above 0 °C, frost counted as the heat that melting it would take.
  double Energy() const { return heat_capacity * celsius - kFusionHeat * frost; }

  // Heat and vapour pass between air and surface for `seconds`. `film` is the whole coefficient for heat, `convective`
  // the part of it that carries vapour too, W/(m2 K). Vapour settles while the air is moister than the surface's
  // saturation and leaves while it is drier and water lies there.
  void Exchange(AirNode& air, double film, double convective, double seconds);

  // A warm wet coil or a rush of warm air can fill cold air beyond what it holds: the surplus settles here.
  void CatchMist(AirNode& air);

  // Gives what lies beyond `held` kg of liquid away at once; returns it.
  double DrainBeyond(double held);

 private:
  void ExchangeVapour(AirNode& air, double convective, double seconds);
  // Melts or freezes as far as the surface's own heat reaches, so that 0 °C is held until the change is complete.
  void ChangePhase();
};

}  // namespace rindwatch::sensors::simulated
