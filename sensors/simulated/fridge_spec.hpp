// What a simulated fridge is made of. Plain values with working defaults; every figure is invented within the range
// of household fridges, none is that of a product.
#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <vector>

#include "sensors/simulated/box.hpp"
#include "sensors/simulated/humidifier.hpp"
#include "sensors/simulated/keeper.hpp"
#include "sensors/simulated/mishap.hpp"
#include "sensors/simulated/plant.hpp"
#include "sensors/simulated/probe.hpp"
#include "sensors/simulated/weather.hpp"
#include "sensors/simulated/wheel.hpp"

namespace rindwatch::sensors::simulated {

struct CabinetSpec {
  double volume = 0.15;       // m3 of air
  double wall_loss = 1.6;     // W/K through the insulation
  double gasket_leak = 5e-5;  // m3/s of room air through a shut door
  double liner_area = 1.9;    // m2, racks included
  double liner_heat = 9000;   // J/K, racks included
  double liner_film = 8.5;    // W/(m2 K), radiation included
  double liner_convective = 4;
  double water_held = 0.3;  // kg that cling to liner and floor; what is more runs out of the drain
};

struct DoorSpec {
  double width = 0.5, height = 0.8;  // m
  double ajar = 0.25;                // share of the opening that a door left ajar leaves free
};

struct WheelIn {
  WheelSpec wheel;
  std::string where;  // empty: on a rack in the fridge's own air; else a box's name
  double celsius = 12.5;
};

struct PlannedWheel {
  std::chrono::seconds at;  // since the start
  WheelIn wheel;
};

struct PlannedMishap {
  std::chrono::seconds at;  // since the start
  Mishap mishap;
};

struct FridgeSpec {
  std::uint64_t seed = 1;
  std::chrono::seconds starts_at{0};  // local time of day at second 0
  double begins_celsius = 12.5;       // of everything but the wheels
  double begins_humidity = 80;        // percent, in the fridge; boxes with wheels begin at 90
  RoomSpec room;
  CabinetSpec cabinet;
  DoorSpec door;
  PlantSpec plant;
  HumidifierSpec humidifier;
  KeeperSpec keeper;
  StillAir rack_air;  // how the air reaches wheels on the open racks
  StillAir box_air{.convective = 2.2, .radiative = 2.2};
  std::vector<BoxSpec> boxes;
  std::vector<WheelIn> wheels;
  std::vector<PlannedWheel> arrivals;
  std::vector<ProbeSpec> probes;
  std::vector<PlannedMishap> mishaps;
};

}  // namespace rindwatch::sensors::simulated
