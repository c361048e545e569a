// From a message to readings with their time, source and marks, and back from the store's answer to news. Owns what
// must be known about the readings before: the newest of each channel and the last kept message of each topic.
// No thread, no clock, no network. One thread at a time (the MQTT library's).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "rules/reading.hpp"
#include "rules/time.hpp"
#include "sensors/decoder.hpp"
#include "sensors/route.hpp"
#include "sensors/sink.hpp"

namespace rindwatch::sensors {

// What the broker handed over.
struct Message {
  std::string_view topic;
  std::string_view payload;
  bool duplicate = false;   // DUP: sent before, on an earlier connection, and not acknowledged
  bool retained = false;    // held by the broker for whoever subscribes: no reading
  bool backlog = false;     // queued by the broker while nobody was connected
  rules::Instant at;        // arrival, by the wall
  bool clock_known = true;  // false: `at` counts on from an unproven clock
};

// What is known from before: after a crash the store says it.
struct Known {
  std::vector<std::pair<rules::ChannelId, rules::Instant>> newest;  // measured_at, per channel
  std::vector<std::pair<std::string, std::uint64_t>> fingerprints;  // of the last kept message, per topic
};

// Of topic and payload. Never 0. Stored: the function is pinned (FNV-1a, 64 bits, topic, a zero byte, payload).
std::uint64_t FingerprintOf(std::string_view topic, std::string_view payload);

class Intake {
 public:
  // A time of the payload's own further ahead, or before 2020, is not believed; an older reading is not live.
  static constexpr rules::Millis kAhead{120'000};
  static constexpr rules::Millis kLiveAge{120'000};
  // Topics whose last message is remembered; of more than these a repeat is not recognised.
  static constexpr std::size_t kMostTopics = 10'000;

  explicit Intake(const Known& known = {});

  struct Read {
    Batch batch;                      // without readings: nothing to keep
    std::vector<std::string> faults;  // sentences for the keeper; the message is invalid if there are any
    bool routed = false;              // some route reads this topic
  };
  // Says what a message holds. Changes nothing: a message that is not kept may come again.
  Read Look(const Message& message, const RouteTable& routes) const;

  struct Settled {
    std::vector<rules::Reading> fresh;  // kept and new
    std::vector<std::string> faults;    // an own time that was kept before with another value
  };
  // Takes the store's answer to a batch of Look; `result` has kept it.
  Settled Settle(const Batch& batch, const KeepResult& result);

 private:
  bool IsRepeat(const Message& message, std::uint64_t fingerprint) const;
  bool IsNewest(rules::ChannelId channel, rules::Instant measured_at, rules::Instant now) const;
  bool IsLive(const rules::Reading& reading, const Message& message) const;
  rules::Reading Stamp(const Message& message, const Value& value, const Decoded& decoded, bool repeat) const;

  std::unordered_map<rules::ChannelId, rules::Instant> newest_;
  std::unordered_map<std::string, std::uint64_t> fingerprints_;
};

}  // namespace rindwatch::sensors
