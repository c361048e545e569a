// What the watch remembers. Everything here is written down by state_text, except what is marked as worked out.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "rules/alarms/cadence.hpp"
#include "rules/alarms/delay.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/alarms/window.hpp"
#include "rules/care/history.hpp"

namespace rindwatch::rules::watch {

// A temperature or humidity channel, or one of another kind that hangs somewhere and is not judged yet.
struct Channel {
  ChannelId id = 0;
  ProbeId probe = 0;
  ChannelKind kind = ChannelKind::kTemperature;
  std::optional<CaveId> cave;
  std::optional<Instant> heard;  // the last live reading, by the engine's instants
  Instant measured;              // the same reading's own time
  std::int64_t latest = 0;       // its value, milli-units
  Instant unbroken_since;        // from where on the window holds what was heard
  bool learns = true;            // false until the first reading after an absence: that gap is ours, not the probe's
  Cadence cadence;
  Window window;

  bool Judged() const { return kind == ChannelKind::kTemperature || kind == ChannelKind::kHumidity; }
  Instant MissedAt() const { return *heard + cadence.MissedAfter(); }
  // What was heard at an instant that has not come yet, by a clock that was ahead, proves nothing about now.
  bool Speaks(Instant at) const { return heard && at < MissedAt() && *heard <= at + std::chrono::minutes{2}; }
  // Its window is full of what it said without a break: the air rules may lean on it.
  bool Settled(Instant at) const { return at - unbroken_since >= std::chrono::minutes{window.Minutes()}; }
};

// Only probes with a temperature or humidity channel in a cave: those that ought to speak all the time.
struct Probe {
  Instant quiet_since;  // last spoke, was hung, or was first listened for after an absence
};

// One side of one channel kind of one cave: beyond the edge, beyond the act limit, beyond the urgent one.
struct Side {
  Delay edge, act, urgent;
  Millis back{0};  // how long back inside by the deadband, while an alarm stands
  Instant since;   // when `edge` began to count
  double dose = 0;
  double extreme = 0;
  bool out = false;  // for the page: beyond the edge, until back inside by the deadband
  // Still out when the alarm around this box ended: as long as it comes back nothing is counted.
  bool trails = false;
};

struct AirWatch {
  Side high, low;
  Instant judged;  // the last minute that was judged
};

// What stands in a cave and what it asks of one kind of channel. Worked out from the facts.
struct Stake {
  struct Asking {
    WheelId wheel;
    std::optional<Figure> band;
  };
  std::optional<Figure> band, target;
  bool tender = false;  // a soft or blue cheese among them
  bool small = false;   // a wheel that follows the air in an hour or two
  std::vector<Asking> wheels;
  std::vector<WheelId> unsuited;
};

struct Cave {
  std::optional<CaveId> inside;
  DayTurn turn;
  std::optional<Figure> temperature_limit, humidity_limit;
  std::optional<Instant> next_day;  // when the stages of its wheels are looked up again; none without wheels
  AirWatch temperature, humidity;

  // Worked out.
  Stake temperature_stake, humidity_stake;
  std::vector<ChannelId> temperature_channels, humidity_channels;

  AirWatch& Air(ChannelKind kind) { return kind == ChannelKind::kTemperature ? temperature : humidity; }
  const AirWatch& Air(ChannelKind kind) const { return kind == ChannelKind::kTemperature ? temperature : humidity; }
  Stake& StakeOf(ChannelKind kind) { return kind == ChannelKind::kTemperature ? temperature_stake : humidity_stake; }
  const Stake& StakeOf(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_stake : humidity_stake;
  }
  const std::vector<ChannelId>& Channels(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_channels : humidity_channels;
  }
  const std::optional<Figure>& Limit(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_limit : humidity_limit;
  }
};

struct Wheel {
  CaveId cave = 0;
  WheelHistory history;  // without acts and agreed cares; its plans without cares and words
  Grams weight;
  std::optional<Figure> own_temperature, own_humidity;
  Instant looked_up;  // the instant for which the figures below were worked out

  // Worked out.
  std::optional<Figure> temperature_band, humidity_band, temperature_target, humidity_target;
  int hardiness = 0;
  int age = 0;

  const std::optional<Figure>& Band(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_band : humidity_band;
  }
  const std::optional<Figure>& Target(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_target : humidity_target;
  }
};

inline constexpr ChannelKind kJudgedKinds[] = {ChannelKind::kTemperature, ChannelKind::kHumidity};

}  // namespace rindwatch::rules::watch

namespace rindwatch::rules {

struct EngineState::Body {
  bool begun = false;                    // any input yet
  Instant now;                           // everything up to here is decided
  bool watching = true;                  // between Started and Stopped
  Instant stopped;                       // since when nobody watches, while nobody does
  std::vector<watch::Channel> channels;  // by id
  std::map<ProbeId, watch::Probe> probes;
  std::map<CaveId, watch::Cave> caves;
  std::map<WheelId, watch::Wheel> wheels;  // only those that lie in a cave and are not gone
  std::vector<Alarm> alarms;               // in the order raised

  // Worked out.
  std::vector<std::shared_ptr<const Plan>> plans;  // as trimmed for the wheels; one object per version
  Instant wake;                                    // no deadline lies before it; may be too early
  bool found_later = false;                        // while deadlines of an absence are being decided

  watch::Channel* FindChannel(ChannelId id);
  const watch::Channel* FindChannel(ChannelId id) const;
};

}  // namespace rindwatch::rules
