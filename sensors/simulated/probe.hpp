// A probe of the simulated fridge: late, noisy, coarse and a little wrong, as real ones are. A value.
#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "rules/reading.hpp"
#include "sensors/simulated/random.hpp"

namespace rindwatch::sensors::simulated {

struct ChannelSpec {
  rules::ChannelKind kind = rules::ChannelKind::kTemperature;
  std::chrono::seconds lag{60};  // after so long it has followed two thirds of a step
  double noise = 0.03;           // deviation of one reading
  double resolution = 0.1;       // readings are whole multiples of it; 0: not rounded
  double bias = 0;               // added to every reading
};

struct ProbeSpec {
  std::string name;
  std::string where;  // empty: the fridge's own air; else a box's or a wheel's name
  std::vector<ChannelSpec> channels;
  std::chrono::seconds every{60};  // whole multiples of ten seconds
  bool on_mains = false;           // speaks only while there is power
};

// One value of one channel, as the probe would say it.
struct ProbeReading {
  std::string probe;
  rules::ChannelKind kind;
  double value = 0;            // °C, %, W; a door: 1 open, 0 shut
  std::chrono::seconds at{0};  // since the fridge's start

  bool operator==(const ProbeReading&) const = default;
};

// What is true where a probe hangs.
struct Surroundings {
  double celsius = 0;
  double vapour_density = 0;  // kg/m3
  double wheel_core = 0;      // °C
  bool door_open = false;
  double plant_power = 0;  // W
};

class Probe {
 public:
  // Throws std::invalid_argument for a channel kind that the fridge has no truth for, or an interval that is no
  // multiple of ten seconds.
  Probe(const ProbeSpec& spec, const Surroundings& begins_in, Random random);

  const ProbeSpec& Spec() const { return spec_; }
  // Follows its surroundings for `seconds`.
  void Follow(const Surroundings& here, double seconds);
  bool IsDue(std::chrono::seconds at) const { return at % spec_.every == std::chrono::seconds{0}; }
  enum class Ails { kNothing, kStuck, kWet };
  // Says what it senses; stuck, what it said last; wet, a humidity near the end of its scale.
  void Speak(std::chrono::seconds at, std::vector<ProbeReading>& out, Ails ails = Ails::kNothing);

 private:
  struct Channel {
    ChannelSpec spec;
    double sensed = 0;
    double said = 0;
  };
  // What the channel would show at once. Humidity is told at the chip's own, late temperature: a probe that is still
  // warm reads too dry.
  double Truth(const ChannelSpec& channel, const Surroundings& here) const;
  double ChipCelsius(const Surroundings& here) const;

  ProbeSpec spec_;
  Random random_;
  std::vector<Channel> channels_;
};

}  // namespace rindwatch::sensors::simulated
