// What a probe said: one value of one channel at one instant.
#pragma once

#include <cstdint>

#include "rules/time.hpp"

namespace rindwatch::rules {

// Stored: the numbers are pinned for ever.
enum class ChannelKind : std::uint8_t {
  kTemperature = 1,       // air, milli-degrees Celsius
  kHumidity = 2,          // relative, milli-percent
  kWheelTemperature = 3,  // milli-degrees Celsius
  kDoor = 4,              // 1000 open, 0 shut
  kPlantPower = 5,        // milliwatts
  kCarbonDioxide = 6,     // milli-ppm
  kAmmonia = 7,           // milli-ppm
  kBattery = 8,           // milli-percent
  kWeight = 9,            // milligrams
  kHumidifierWater = 10,  // 1000 there is water, 0 it is dry
  kDrainWater = 11,       // 1000 water stands, 0 it runs off
};
inline constexpr ChannelKind kLastChannelKind = ChannelKind::kDrainWater;
// Says one of two things, and speaks when there is something to say.
constexpr bool IsContact(ChannelKind kind) {
  return kind == ChannelKind::kDoor || kind == ChannelKind::kHumidifierWater || kind == ChannelKind::kDrainWater;
}

// People breathe it.
constexpr bool IsGas(ChannelKind kind) { return kind == ChannelKind::kCarbonDioxide || kind == ChannelKind::kAmmonia; }

// Where measured_at came from. Stored: the numbers are pinned.
enum class TimeSource : std::uint8_t {
  kOwn = 1,      // named in the payload: (channel, measured_at) is the reading's identity
  kArrival = 2,  // the instant at which it came
  kBacklog = 3,  // queued by the broker while nobody was connected: its true time is unknown
  kTyped = 4,    // a keeper read an instrument and typed it in
  kHeld = 5,     // stamped by the monotonic clock until the wall clock was known good
};

// Stored as a bit set: the bits are pinned.
enum class Mark : std::uint8_t {
  kLive = 1,          // newest of its channel and at most two minutes old when received: only these reach alarms
  kRepeat = 2,        // a DUP whose topic and bytes equal the last kept message: in no rollup, in no judgement
  kUnbelievable = 4,  // its own time was not believed and arrival was taken
};
using Marks = std::uint8_t;
constexpr bool Has(Marks marks, Mark mark) { return (marks & static_cast<Marks>(mark)) != 0; }
constexpr Marks With(Marks marks, Mark mark) { return static_cast<Marks>(marks | static_cast<Marks>(mark)); }

using ChannelId = std::int64_t;

// Raw as received; the corrected value follows from the probe's calibrations.
struct Reading {
  ChannelId channel = 0;
  Instant measured_at;
  Instant received_at;
  std::int64_t milli = 0;  // thousandths of the channel kind's unit
  TimeSource source = TimeSource::kArrival;
  Marks marks = 0;

  double Value() const { return static_cast<double>(milli) / 1000.0; }
  bool operator==(const Reading&) const = default;
};

}  // namespace rindwatch::rules
