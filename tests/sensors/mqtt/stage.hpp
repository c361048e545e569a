// What the tests of the connections need: a clock that stands, a sink that writes down what it kept and can be made to
// refuse or to hold its breath, and a listener that writes down what it heard. Safe from any thread.
#pragma once

#include <condition_variable>
#include <map>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

#include "rules/clock.hpp"
#include "sensors/mqtt/subscriber.hpp"
#include "tests/sensors/mosquitto.hpp"

namespace rindwatch::tests {

class StandingClock : public rules::Clock {
 public:
  rules::Instant Wall() const override { return rules::FromMillis(1'764'055'800'000); }
  rules::Millis Monotonic() const override { return rules::Millis{0}; }
};

class NotingSink : public sensors::ReadingSink {
 public:
  sensors::KeepResult Keep(const sensors::Batch& batch) noexcept override {
    std::unique_lock lock(mutex_);
    ++asked_;
    go_on_.wait(lock, [this] { return !holding_; });
    if (refusals_ > 0) {
      --refusals_;
      return {};
    }
    batches_.push_back(batch);
    return {.kept = true, .outcomes = std::vector(batch.readings.size(), outcome_)};
  }

  void Refuse(int times) {
    With([&] { refusals_ = times; });
  }
  void Answer(sensors::Kept outcome) {
    With([&] { outcome_ = outcome; });
  }
  void Hold() {
    With([&] { holding_ = true; });
  }
  void Release() {
    With([&] { holding_ = false; });
    go_on_.notify_all();
  }
  int Asked() const {
    const std::scoped_lock lock(mutex_);
    return asked_;
  }
  std::vector<sensors::Batch> Batches() const {
    const std::scoped_lock lock(mutex_);
    return batches_;
  }
  std::vector<rules::Reading> Readings() const {
    std::vector<rules::Reading> all;
    for (const auto& batch : Batches()) all.insert(all.end(), batch.readings.begin(), batch.readings.end());
    return all;
  }
  // Values of all readings in the order of keeping, in whole units.
  std::vector<std::int64_t> Values() const {
    std::vector<std::int64_t> values;
    for (const auto& reading : Readings()) values.push_back(reading.milli / 1000);
    return values;
  }

 private:
  template <typename Change>
  void With(Change change) {
    const std::scoped_lock lock(mutex_);
    change();
  }

  mutable std::mutex mutex_;
  std::condition_variable go_on_;
  std::vector<sensors::Batch> batches_;
  sensors::Kept outcome_ = sensors::Kept::kNew;
  int asked_ = 0;
  int refusals_ = 0;
  bool holding_ = false;
};

class NotingListener : public sensors::MqttListener {
 public:
  struct Heard {
    std::vector<rules::Reading> readings;
    std::vector<std::string> invalid;  // "topic | first bytes | why"
    std::map<std::string, std::string> arriving;
    std::vector<std::pair<bool, std::string>> connection;
    std::vector<std::string> trouble;
  };

  void OnReadings(const std::vector<rules::Reading>& readings) noexcept override {
    const std::scoped_lock lock(mutex_);
    heard_.readings.insert(heard_.readings.end(), readings.begin(), readings.end());
  }
  void OnInvalid(std::string_view topic, std::string_view first_bytes, std::string_view why) noexcept override {
    const std::scoped_lock lock(mutex_);
    heard_.invalid.push_back(std::string(topic) + " | " + std::string(first_bytes) + " | " + std::string(why));
  }
  void OnArriving(std::string_view topic, std::string_view first_bytes, rules::Instant) noexcept override {
    const std::scoped_lock lock(mutex_);
    heard_.arriving[std::string(topic)] = first_bytes;
  }
  void OnConnection(bool up, std::string_view why) noexcept override {
    const std::scoped_lock lock(mutex_);
    heard_.connection.emplace_back(up, why);
  }
  void OnTrouble(std::string_view what) noexcept override {
    const std::scoped_lock lock(mutex_);
    heard_.trouble.emplace_back(what);
  }

  Heard So() const {
    const std::scoped_lock lock(mutex_);
    return heard_;
  }

 private:
  mutable std::mutex mutex_;
  Heard heard_;
};

inline sensors::Route PlainRoute(std::string filter, rules::ChannelId channel = 1) {
  return {.filter = std::move(filter),
          .probe = channel,
          .format = sensors::Format::kPlain,
          .channels = {{channel, rules::ChannelKind::kTemperature, "", sensors::Unit::kCelsius}},
          .time_pointer = {}};
}

// Retries without delay worth mentioning: a test waits for what happens, never for a schedule.
inline sensors::Patience Impatient() {
  sensors::Patience patience;
  patience.first_retry = std::chrono::milliseconds(10);
  patience.longest_retry = std::chrono::milliseconds(50);
  patience.after_refusal = std::chrono::milliseconds(10);
  return patience;
}

inline sensors::Subscriber::Settings SettingsFor(const Mosquitto& broker) {
  sensors::Subscriber::Settings settings;
  settings.broker.port = broker.Port();
  settings.patience = Impatient();
  settings.client_id = "test-watch";
  return settings;
}

// A subscriber with all that it needs.
struct Watch {
  explicit Watch(sensors::Subscriber::Settings settings, std::vector<sensors::Route> routes = {PlainRoute("probe")},
                 const sensors::Known& known = {})
      : subscriber(std::move(settings), clock, sink, listener, known, std::move(routes)) {}

  void Start() { subscriber.Start(); }
  bool StartAndConnect() {
    Start();
    return Eventually([&] { return subscriber.IsConnected(); });
  }
  bool WaitForValues(std::size_t count) {
    return Eventually([&] { return sink.Readings().size() >= count; });
  }

  StandingClock clock;
  NotingSink sink;
  NotingListener listener;
  sensors::Subscriber subscriber;
};

}  // namespace rindwatch::tests
