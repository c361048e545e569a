// The way out: retained state and single messages, over a connection of its own so that it never waits behind readings.
//
// State is coalesced: while the broker is away only the last value of a topic is kept, and all of it is sent again at
// each connection (a broker may have forgotten it). The last will on the alive topic tells everybody when we are gone.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "sensors/mqtt/broker.hpp"

namespace rindwatch::sensors {

class Publisher {
 public:
  struct Settings {
    Broker broker;
    Patience patience;
    std::string client_id = "rindwatch-out";  // unique at the broker
    // Retained "1" while connected, "0" by the last will or at Stop; such as "rindwatch/alive". Empty: none.
    std::string alive_topic;
    std::size_t queue_bound = 1000;  // single messages that wait for the broker; the oldest go first
    // The connection came up or went down, told once per change; from a thread of the publisher's. May be empty.
    std::function<void(bool up, std::string_view why)> on_connection;
  };

  // Throws std::invalid_argument with one sentence for an alive topic that nobody may publish to.
  explicit Publisher(Settings settings);
  // Stops.
  ~Publisher();
  Publisher(const Publisher&) = delete;
  Publisher& operator=(const Publisher&) = delete;

  void Start();
  // Sends what is pending if the broker is there (two seconds at most), then "0" on the alive topic, then leaves.
  void Stop();

  // Any thread; return at once. Throws std::invalid_argument with one sentence for a topic nobody may publish to.
  // The retained state of a topic; the same payload again is not sent again.
  void SetState(std::string topic, std::string payload);
  // Takes a topic's retained state away from the broker.
  void ClearState(std::string topic);
  // One message, QoS 1, not retained, in order: as a probe sends it.
  void Send(std::string topic, std::string payload);

  bool IsConnected() const;
  // Single messages dropped because the queue was full.
  std::size_t Dropped() const;
  // Waits until everything handed in so far is with the broker; false after `most`. For tools, not for the loop.
  bool Flush(std::chrono::milliseconds most);

 private:
  class Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace rindwatch::sensors
