// A wick over water with a humidistat: gives vapour to air that is too dry. A value; stepped by the fridge.
#pragma once

#include "sensors/simulated/moist_air.hpp"

namespace rindwatch::sensors::simulated {

struct HumidifierSpec {
  bool fitted = false;
  double set_percent = 86;
  double hysteresis = 3;  // points, from the lower to the upper switching point
  double blown = 0.0012;  // m3/s of air through the wick, which it leaves saturated
};

class Humidifier {
 public:
  explicit Humidifier(const HumidifierSpec& spec) : spec_(spec) {}
  // Returns the kg of water that it gave to the air, whose own heat evaporates them.
  double Step(AirNode& air, bool powered, bool dry, double seconds);

 private:
  HumidifierSpec spec_;
  bool asks_ = false;
};

}  // namespace rindwatch::sensors::simulated
