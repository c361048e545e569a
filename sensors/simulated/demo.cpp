#include "sensors/simulated/demo.hpp"

#include <string>

namespace rindwatch::sensors::simulated {

namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr seconds kDay = hours{24};
constexpr seconds kEvening = hours{18} + minutes{30};
constexpr seconds kAjarFor = hours{1} + minutes{50};
// The evening lies at least this long before now, so that the alarm is over and still near the journal's top.
constexpr seconds kAtLeastAgo = hours{60};

constexpr seconds kDayTurns = hours{4};
constexpr seconds kBloomiesAgo = 9 * kDay;
constexpr seconds kBloomiesAt = hours{17} + minutes{20};
// From coming in to the morning on which the lid is shut.
constexpr seconds kLidAjarFor = 2 * kDay + hours{13} + minutes{45};
// The drying rest before: 12 to 15 °C.
constexpr double kBloomiesCelsius = 15;

// One or two wheels lie in each: smaller boxes than those of a full fridge, and with less of a gap.
BoxSpec DemoBox(std::string_view name) {
  BoxSpec box;
  box.name = name;
  box.air_volume = 0.005;
  box.wall_area = 0.18;
  box.wall_heat = 1500;
  box.gap_shut *= 0.35;
  box.gap_ajar *= 0.45;
  return box;
}

ProbeSpec AirProbe(std::string_view name, std::string_view where, double humidity_bias) {
  using Kind = rules::ChannelKind;
  return {.name = std::string{name},
          .where = std::string{where},
          .channels = {{Kind::kTemperature, minutes{3}, 0.03, 0.1, 0.1},
                       {Kind::kHumidity, seconds{40}, 0.25, 0.1, humidity_bias}},
          .on_mains = true};
}

// A plant that many times as large, its evaporator with it.
PlantSpec ScaledPlant(PlantSpec plant, double times) {
  plant.capacity *= times;
  plant.electric *= times;
  plant.fan *= times;
  plant.coil_heat *= times;
  plant.coil_area *= times;
  plant.frost_blocks *= times;
  plant.water_held *= times;
  plant.defrost.heater *= times;
  return plant;
}

ProbeSpec Plug() {
  return {.name = std::string{kDemoPlugProbe},
          .where = "",
          .channels = {{rules::ChannelKind::kPlantPower, seconds{0}, 0.4, 0.1, 0}},
          .on_mains = true};
}

}  // namespace

WheelSpec SmallBloomyWheel(std::string_view name) {
  return {.name = std::string{name},
          .shape = {.radius = 0.055, .height = 0.0246},
          .matter = {},
          .rind = {.water_activity = 0.965, .free_share = 0.8, .respiration = 1.0}};
}

WheelSpec SmallWashedWheel(std::string_view name) {
  return {.name = std::string{name},
          .shape = {.radius = 0.06, .height = 0.0331},
          .matter = {},
          .rind = {.water_activity = 0.97, .free_share = 0.4, .respiration = 0.8}};
}

WheelSpec PressedWheel(std::string_view name) {
  return {.name = std::string{name},
          .shape = {.radius = 0.0875, .height = 0.0583},
          .matter = {},
          .rind = {.water_activity = 0.95, .free_share = 0.25, .respiration = 0.4}};
}

std::optional<DemoMishap> DemoDoorLeftAjar(const DemoTimes& times) {
  seconds from = kEvening - times.starts_at;
  while (from + kDay + kAtLeastAgo <= times.past) from += kDay;
  if (from < seconds{0} || from + kAtLeastAgo > times.past) return std::nullopt;
  return DemoMishap{from, from + kAjarFor};
}

seconds DemoBloomiesCame(const DemoTimes& times) {
  const seconds now = times.starts_at + times.past - kDayTurns;
  return now - now % kDay - kBloomiesAgo + kBloomiesAt - times.starts_at;
}

FridgeSpec DemoSpec(const DemoTimes& times) {
  FridgeSpec spec;
  spec.seed = times.seed;
  spec.starts_at = times.starts_at;
  spec.boxes = {DemoBox(kDemoBoxOne), DemoBox(kDemoBoxTwo), DemoBox(kDemoBoxThree)};
  spec.wheels.push_back({PressedWheel("Pressed 1"), std::string{kDemoBoxTwo}});
  spec.wheels.push_back({SmallWashedWheel("Washed 1"), std::string{kDemoBoxThree}});
  const seconds came = DemoBloomiesCame(times);
  for (int n = 1; n <= 2; ++n) {
    const WheelIn wheel{SmallBloomyWheel("Bloomy " + std::to_string(n)), std::string{kDemoBoxOne}};
    if (came < seconds{0}) {
      spec.wheels.push_back(wheel);
    } else {
      spec.arrivals.push_back({came, {wheel.wheel, wheel.where, kBloomiesCelsius}});
    }
  }
  if (came >= seconds{0}) {
    spec.boxes[0].lid = Lid::kAjar;
    spec.mishaps.push_back(
        {came + kLidAjarFor, {.kind = Mishap::Kind::kLid, .subject = std::string{kDemoBoxOne}, .lid = Lid::kShut}});
  }
  spec.boxes[1].lid = Lid::kAjar;
  spec.boxes[2].lid = Lid::kAjar;
  spec.probes = {AirProbe(kDemoFridgeProbe, "", -1.2), AirProbe(kDemoBoxProbe, kDemoBoxOne, 0.0), Plug()};
  if (const auto door = DemoDoorLeftAjar(times)) {
    spec.mishaps.push_back(
        {door->from, {.kind = Mishap::Kind::kDoorAjar, .subject = {}, .span = door->until - door->from}});
  }
  return spec;
}

FridgeSpec DemoCellarSpec(const DemoTimes& times) {
  FridgeSpec spec;
  spec.seed = times.seed;
  spec.starts_at = times.starts_at;
  spec.begins_humidity = 88;
  // A room of 4 by 4 by 2.5 m, half below ground; figures invented within the range of small cold rooms.
  spec.cabinet.volume = 40;
  spec.cabinet.wall_loss *= 16;
  spec.cabinet.gasket_leak *= 20;
  spec.cabinet.liner_area = 72;
  spec.cabinet.liner_heat *= 60;
  spec.cabinet.water_held = 8;
  spec.door = {.width = 0.9, .height = 2.0, .ajar = 0.1};
  spec.plant = ScaledPlant(spec.plant, 16);
  spec.humidifier = {.fitted = true, .set_percent = 87, .hysteresis = 3, .blown = 0.06};
  for (int n = 1; n <= 6; ++n) spec.wheels.push_back({PressedWheel("Cellar wheel " + std::to_string(n)), ""});
  spec.probes = {AirProbe(kDemoFridgeProbe, "", 0.4), Plug()};
  return spec;
}

}  // namespace rindwatch::sensors::simulated
