#include "sensors/simulated/plant.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::sensors::simulated {

namespace {

double Count(std::chrono::seconds span) { return static_cast<double>(span.count()); }

}  // namespace

Plant::Plant(const PlantSpec& spec, double celsius)
    : spec_(spec),
      coil_{.heat_capacity = spec.coil_heat, .area = spec.coil_area, .celsius = celsius},
      thermostat_(celsius),
      rested_(Count(spec.shortest_rest)),
      phase_left_(Count(spec.defrost.first)),
      since_due_(Count(spec.defrost.every - spec.defrost.first)) {}

void Plant::Enter(Phase phase) {
  phase_ = phase;
  switch (phase) {
    case Phase::kHeating:
      since_due_ = 0;
      phase_left_ = Count(spec_.defrost.longest);
      break;
    case Phase::kDripping:
      phase_left_ = Count(spec_.defrost.drip);
      break;
    case Phase::kCooling:
      phase_left_ = Count(spec_.defrost.every) - since_due_;
      break;
  }
}

void Plant::KeepTime(double seconds) {
  since_due_ += seconds;
  phase_left_ -= seconds;
  if (phase_ == Phase::kHeating && coil_.frost <= 0 && coil_.celsius >= spec_.defrost.until_coil) {
    Enter(Phase::kDripping);
  } else if (phase_left_ <= 0) {
    Enter(phase_ == Phase::kCooling ? Phase::kHeating : phase_ == Phase::kHeating ? Phase::kDripping : Phase::kCooling);
  }
}

void Plant::Switch(bool powered, const Trouble& trouble, double seconds) {
  const double half = spec_.hysteresis / 2, set = spec_.set_celsius + trouble.warmer;
  if (thermostat_ > set + half) asks_ = true;
  if (thermostat_ < set - half) asks_ = false;
  if (trouble.sticks) asks_ = true;
  rested_ = runs_ ? 0 : rested_ + seconds;
  const bool may = powered && !trouble.dead && phase_ == Phase::kCooling && asks_;
  runs_ = may && (runs_ || rested_ >= Count(spec_.shortest_rest));
}

double Plant::Capacity(const RoomAir& room) const {
  const double by_coil = 1 + spec_.per_coil_kelvin * coil_.celsius;
  const double by_room = 1 - spec_.per_room_kelvin * (room.celsius - 20);
  return spec_.capacity * std::max(0.0, by_coil) * std::clamp(by_room, 0.0, 1.3);
}

Plant::Moved Plant::Step(AirNode& air, const RoomAir& room, bool powered, const Trouble& trouble, double seconds) {
  thermostat_ += (air.celsius - thermostat_) * std::min(1.0, seconds / Count(spec_.thermostat_lag));
  if (powered) KeepTime(seconds);
  Switch(powered, trouble, seconds);
  const bool heats = powered && phase_ == Phase::kHeating;
  const double heater = heats ? spec_.defrost.heater : 0;
  // The fan runs with the call for cold, so a dead compressor leaves it running; during a defrost it rests.
  const bool blows = powered && phase_ == Phase::kCooling && asks_;
  const double fan = blows ? spec_.fan : 0;
  const double carried = runs_ ? Capacity(room) : 0;
  electric_ = (runs_ ? spec_.electric : 0) + fan + heater;
  const double past_coil = heater * spec_.defrost.heater_to_air;
  coil_.AddHeat((heater - past_coil - carried) * seconds);
  air.AddHeat((fan + past_coil) * seconds);
  const double free = trouble.film_left / (1 + coil_.frost / spec_.frost_blocks);
  const double film = (blows ? spec_.film_fan : spec_.film_still) * free;
  coil_.Exchange(air, film, film, seconds);
  return {(heater + fan - carried) * seconds, coil_.DrainBeyond(spec_.water_held)};
}

}  // namespace rindwatch::sensors::simulated
