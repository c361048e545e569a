// The simulated fridge as a household of probes: it keeps step with a clock, publishes each reading when it is due, and
// misbehaves when told to.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>

#include "daemon/simulate/past.hpp"
#include "rules/clock.hpp"
#include "rules/time.hpp"
#include "sensors/mqtt/broker.hpp"

namespace rindwatch {

// Hears how far the fridge has come; from the run's own thread.
class Listening {
 public:
  virtual ~Listening() = default;
  // A probe's message goes out; before it does.
  virtual void Said(std::string_view topic, rules::Instant at) = 0;
  // All that was to say up to `to` was said; again and again, also while the clock stands.
  virtual void Lived(rules::Instant to) = 0;
  // It lives, and its probes have no broker to say anything to; again and again.
  virtual void Mute(rules::Instant to) = 0;
};

struct SimulateOptions {
  sensors::Broker broker;
  sensors::Patience patience;
  // Must outlive the run. A scaled one makes the fridge live faster.
  const rules::Clock* clock = nullptr;
  rules::Zone zone;         // where the keeper comes at seven
  std::uint64_t seed = 20;  // equal seeds, equal fridges
  // Goes on from here instead of from a fresh fridge; the seed plays no part then. The clock must not show less than
  // its instant.
  std::optional<LivedFridge> lived;
  std::string client_id = "rindwatch-simulate";    // unique at the broker; "-commands" behind it names a second one
  std::string command_topic = "simulate/command";  // empty: no commands by MQTT
  int command_lines = -1;                          // a descriptor to read commands from, such as 0; below 0: none
  bool by_chance = false;                          // mishaps befall it now and then besides
  Listening* listening = nullptr;                  // must outlive the run; null: nobody listens
  // Sentences for the terminal, from the run's own thread: the connection, and each command that was obeyed.
  std::function<void(std::string_view)> say;
  // Why a command was not obeyed, and which are known; from the same thread.
  std::function<void(std::string_view)> refuse;
};

// Runs in the caller's thread until stopped; returns the exit status, 0. A broker that is absent is tried again for
// ever; what a probe reads meanwhile is lost, as with a real one. Commands are the lines of
// sensors/simulated/mishap.hpp. Throws std::invalid_argument for options that contradict themselves.
int RunSimulate(const SimulateOptions& options, const std::stop_token& stop);

}  // namespace rindwatch
