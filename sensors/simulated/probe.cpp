#include "sensors/simulated/probe.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sensors/simulated/moist_air.hpp"

namespace rindwatch::sensors::simulated {

namespace {

using Kind = rules::ChannelKind;

bool IsKnown(Kind kind) {
  return kind == Kind::kTemperature || kind == Kind::kHumidity || kind == Kind::kWheelTemperature ||
         kind == Kind::kDoor || kind == Kind::kPlantPower;
}

// What a humidity sensor shows under a drop of water, %.
constexpr double kDrowned = 99.6;

double Rounded(double value, double resolution) {
  return resolution > 0 ? std::round(value / resolution) * resolution : value;
}

// What no instrument shows.
double Clipped(Kind kind, double value) {
  if (kind == Kind::kHumidity) return std::clamp(value, 0.0, 100.0);
  if (kind == Kind::kDoor) return value < 0.5 ? 0 : 1;
  if (kind == Kind::kPlantPower) return std::max(0.0, value);
  return value;
}

}  // namespace

Probe::Probe(const ProbeSpec& spec, const Surroundings& begins_in, Random random) : spec_(spec), random_(random) {
  if (spec.every < std::chrono::seconds{10} || spec.every % std::chrono::seconds{10} != std::chrono::seconds{0}) {
    throw std::invalid_argument("the probe \"" + spec.name + "\" must speak every 10, 20, 30 ... seconds");
  }
  for (const ChannelSpec& channel : spec.channels) {
    if (!IsKnown(channel.kind)) {
      throw std::invalid_argument("the probe \"" + spec.name +
                                  "\": the simulated fridge measures temperature, humidity, wheel temperature, door "
                                  "and plant power only");
    }
    channels_.push_back({channel, 0, 0});
  }
  // Temperatures first: humidity is told at the chip's own.
  for (Channel& channel : channels_) channel.sensed = Truth(channel.spec, begins_in);
  for (Channel& channel : channels_) {
    channel.sensed = Truth(channel.spec, begins_in);
    channel.said = Clipped(channel.spec.kind, Rounded(channel.sensed + channel.spec.bias, channel.spec.resolution));
  }
}

double Probe::ChipCelsius(const Surroundings& here) const {
  for (const Channel& channel : channels_) {
    if (channel.spec.kind == Kind::kTemperature) return channel.sensed;
  }
  return here.celsius;
}

double Probe::Truth(const ChannelSpec& channel, const Surroundings& here) const {
  switch (channel.kind) {
    case Kind::kTemperature:
      return here.celsius;
    case Kind::kHumidity:
      return std::min(100.0, RelativeHumidityOf(here.vapour_density, ChipCelsius(here)));
    case Kind::kWheelTemperature:
      return here.wheel_core;
    case Kind::kDoor:
      return here.door_open ? 1 : 0;
    case Kind::kPlantPower:
      return here.plant_power;
    case Kind::kCarbonDioxide:
    case Kind::kAmmonia:
    case Kind::kBattery:
    case Kind::kWeight:
    case Kind::kHumidifierWater:
    case Kind::kDrainWater:
      break;  // refused at construction
  }
  return 0;
}

void Probe::Follow(const Surroundings& here, double seconds) {
  for (Channel& channel : channels_) {
    const auto lag = static_cast<double>(channel.spec.lag.count());
    const double followed = lag > 0 ? 1 - std::exp(-seconds / lag) : 1;
    channel.sensed += followed * (Truth(channel.spec, here) - channel.sensed);
  }
}

void Probe::Speak(std::chrono::seconds at, std::vector<ProbeReading>& out, Ails ails) {
  for (Channel& channel : channels_) {
    const bool drowned = ails == Ails::kWet && channel.spec.kind == Kind::kHumidity;
    const double sensed = drowned ? kDrowned : channel.sensed + channel.spec.bias;
    const double raw = sensed + channel.spec.noise * random_.Normal();
    if (ails != Ails::kStuck) channel.said = Clipped(channel.spec.kind, Rounded(raw, channel.spec.resolution));
    out.push_back({spec_.name, channel.spec.kind, channel.said, at});
  }
}

}  // namespace rindwatch::sensors::simulated
