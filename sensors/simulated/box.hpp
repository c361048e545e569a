// A lidded box in the fridge: its own air, walls that sweat, and a gap under the lid that the keeper sets. A value.
#pragma once

#include <string>

#include "sensors/simulated/mishap.hpp"
#include "sensors/simulated/wet_surface.hpp"

namespace rindwatch::sensors::simulated {

struct BoxSpec {
  std::string name;
  double air_volume = 0.011;  // m3 beside the wheels
  double wall_area = 0.32;    // m2, lid included
  double wall_heat = 2700;    // J/K: about 1.6 kg of plastic
  double film_inside = 4.5;   // W/(m2 K), radiation included
  double film_outside = 4.5;  // W/(m2 K), radiation included
  Lid lid = Lid::kShut;
  // Air changed with the fridge, m3/s. No lid is tight: a shut box breathes with every cycle of the plant.
  double gap_shut = 0.00004;
  double gap_ajar = 0.00015;
  double gap_off = 0.006;
};

struct Box {
  BoxSpec spec;
  AirNode air;
  WetSurface wall;
  Lid lid;

  Box(const BoxSpec& box, double celsius, double relative_humidity);
  double Gap(bool lifted) const;
  // Exchanges with the fridge's air for `seconds`; `lifted`: the keeper has the lid in the hand.
  void Exchange(AirNode& cabinet, bool lifted, double seconds);
};

}  // namespace rindwatch::sensors::simulated
