// What cools: thermostat, compressor, evaporator with its frost, fan, and the defrost. A value; stepped by the fridge.
#pragma once

#include <chrono>

#include "sensors/simulated/weather.hpp"
#include "sensors/simulated/wet_surface.hpp"

namespace rindwatch::sensors::simulated {

struct DefrostSpec {
  std::chrono::seconds every = std::chrono::hours{12};
  std::chrono::seconds first = std::chrono::hours{3};       // after the start; counts only while there is power
  double heater = 120;                                      // W; 0: the compressor merely rests (off-cycle)
  double heater_to_air = 0.25;                              // share that misses the coil
  double until_coil = 20;                                   // °C at which it ends
  std::chrono::seconds longest = std::chrono::minutes{25};  // ends it whatever the coil says
  std::chrono::seconds drip = std::chrono::minutes{3};      // rest after it, for the water to run off
};

struct PlantSpec {
  double set_celsius = 12.5;
  double hysteresis = 0.6;  // K, from the lower to the upper switching point
  std::chrono::seconds thermostat_lag{80};
  std::chrono::seconds shortest_rest = std::chrono::minutes{3};
  double capacity = 75;            // W taken from a coil at 0 °C in a room of 20 °C
  double per_coil_kelvin = 0.02;   // share more for each kelvin that the coil is warmer
  double per_room_kelvin = 0.012;  // share less for each kelvin that the room is warmer
  double electric = 60;            // W while the compressor runs
  double fan = 2.5;                // W while it runs, all of which ends as heat in the air
  double coil_heat = 1900;         // J/K
  double coil_area = 0.33;         // m2
  double film_fan = 9.5;           // W/(m2 K) between coil and air with the fan, convective
  double film_still = 7.5;         // and without it
  double frost_blocks = 0.25;      // kg of frost that halve the coil
  double water_held = 0.012;       // kg that cling to the coil; what is more drips away
  DefrostSpec defrost;
};

class Plant {
 public:
  Plant(const PlantSpec& spec, double celsius);

  // What a step moved across the fridge's border, and what the meter saw.
  struct Moved {
    double heat = 0;     // J into the fridge: heater and fan, less what the compressor carried off
    double drained = 0;  // kg of water that dripped away
  };
  struct Trouble {
    bool sticks = false;   // the compressor runs on whatever the thermostat asks, but for defrosts
    bool dead = false;     // the compressor does not start although everything else works
    double warmer = 0;     // K by which the thermostat switches too warm
    double film_left = 1;  // share of the film between coil and air that ice leaves free
  };
  Moved Step(AirNode& air, const RoomAir& room, bool powered, const Trouble& trouble, double seconds);

  bool CompressorRuns() const { return runs_; }
  bool Defrosts() const { return phase_ != Phase::kCooling; }
  double ElectricPower() const { return electric_; }  // W during the last step
  const WetSurface& Coil() const { return coil_; }

 private:
  // kCooling ends when the timer is due; kHeating when the coil is warm or the time is over; kDripping by time.
  enum class Phase { kCooling, kHeating, kDripping };
  void KeepTime(double seconds);
  void Enter(Phase phase);
  void Switch(bool powered, const Trouble& trouble, double seconds);
  double Capacity(const RoomAir& room) const;

  PlantSpec spec_;
  WetSurface coil_;
  double thermostat_;
  Phase phase_ = Phase::kCooling;
  bool asks_ = false;  // the thermostat's contact
  bool runs_ = false;
  double rested_;      // s since the compressor stopped
  double phase_left_;  // s until the timer ends the phase
  double since_due_;   // s of powered time since the last defrost was due
  double electric_ = 0;
};

}  // namespace rindwatch::sensors::simulated
