// Lines by which somebody outside makes the simulated fridge misbehave: messages on an MQTT topic, and lines typed
// into a descriptor such as the terminal. They wait here until the simulation's own thread takes them.
#pragma once

#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>

#include "sensors/mqtt/broker.hpp"
#include "sensors/mqtt/link.hpp"

namespace rindwatch {

// A descriptor that whoever has news writes to and the simulation's thread waits on.
class Alert {
 public:
  // Throws std::system_error if the machine has no descriptor left.
  Alert();
  ~Alert();
  Alert(const Alert&) = delete;
  Alert& operator=(const Alert&) = delete;

  // Any thread.
  void Raise() noexcept;
  // The waiting thread.
  void Clear() noexcept;
  int Descriptor() const { return descriptor_; }

 private:
  int descriptor_;
};

// Commands by MQTT. Retained ones are passed over: a mishap must not come again at each start.
class CommandTopic : private sensors::LinkUser {
 public:
  // `alert` must outlive it and is raised for each line. `on_trouble` gets a sentence if the broker refuses the topic,
  // from a thread of the link's.
  CommandTopic(sensors::Broker broker, sensors::Patience patience, std::string client_id, std::string topic,
               Alert& alert, std::function<void(std::string)> on_trouble);
  ~CommandTopic() override;
  CommandTopic(const CommandTopic&) = delete;
  CommandTopic& operator=(const CommandTopic&) = delete;

  std::optional<std::string> Take();

 private:
  // More than these wait for nobody.
  static constexpr std::size_t kMost = 100;

  bool OnMessage(const sensors::LinkMessage& message) override;
  void OnUp(sensors::Link& link) override;
  void OnWake(sensors::Link&) override {}
  void OnState(bool, std::string_view) override {}  // told by the readings' own connection

  const std::string topic_;
  Alert& alert_;
  const std::function<void(std::string)> on_trouble_;
  std::mutex mutex_;
  std::deque<std::string> lines_;  // guarded by mutex_
  sensors::Link link_;             // last: its threads use all of the above
};

// Commands by lines of a descriptor that somebody else owns.
class CommandLines {
 public:
  // Below 0: none.
  explicit CommandLines(int descriptor) : descriptor_(descriptor) {}

  // What to wait on; below 0 once it has ended, or while a terminal belongs to somebody in the foreground.
  int Descriptor() const;
  // Call when there is something to read: takes in what is there without waiting.
  void Read();
  std::optional<std::string> Take();

 private:
  // A longer line is no command.
  static constexpr std::size_t kLongest = 1000;

  int descriptor_;
  std::string pending_;
};

}  // namespace rindwatch
