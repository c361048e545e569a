// The simulation against a real broker. The clock is a trial's: a second of the world is ten minutes of the fridge.
#include "daemon/simulate/simulate.hpp"

#include <map>
#include <mutex>
#include <thread>
#include <vector>

#include "daemon/clock/clocks.hpp"
#include "daemon/simulate/speech.hpp"
#include "sensors/mqtt/link.hpp"
#include "tests/catch.hpp"
#include "tests/sensors/mosquitto.hpp"

using namespace rindwatch;
using namespace std::chrono_literals;
using tests::Eventually;

namespace {

const rules::Instant kStart = rules::FromMillis(1'764'055'800'000);

// Hears all that the fridge's house says.
class Ear : private sensors::LinkUser {
 public:
  explicit Ear(std::uint16_t port) : link_(SettingsFor(port), *this) {
    link_.Start();
    REQUIRE(Eventually([this] { return Listens(); }));
  }
  ~Ear() override { link_.Stop(); }
  std::size_t Count(std::string_view topic) const {
    const std::scoped_lock lock(mutex_);
    const auto found = heard_.find(std::string{topic});
    return found == heard_.end() ? 0 : found->second.size();
  }
  std::vector<std::string> Of(std::string_view topic) const {
    const std::scoped_lock lock(mutex_);
    const auto found = heard_.find(std::string{topic});
    return found == heard_.end() ? std::vector<std::string>{} : found->second;
  }

 private:
  static sensors::Link::Settings SettingsFor(std::uint16_t port) {
    sensors::Link::Settings settings;
    settings.broker.port = port;
    settings.client_id = "ear";
    return settings;
  }
  bool OnMessage(const sensors::LinkMessage& message) override {
    const std::scoped_lock lock(mutex_);
    heard_[std::string{message.topic}].emplace_back(message.payload);
    return true;
  }
  void OnUp(sensors::Link& link) override {
    link.Subscribe("cellar-house/#", 1);
    const std::scoped_lock lock(mutex_);
    listens_ = true;
  }
  void OnWake(sensors::Link&) override {}
  void OnState(bool, std::string_view) override {}
  bool Listens() const {
    const std::scoped_lock lock(mutex_);
    return listens_;
  }

  mutable std::mutex mutex_;
  bool listens_ = false;
  std::map<std::string, std::vector<std::string>> heard_;
  sensors::Link link_;
};

// A simulation in a thread of its own, stopped with the object.
class Run {
 public:
  explicit Run(SimulateOptions options) : options_(std::move(options)) {
    clock_.Run(600);
    options_.clock = &clock_;
    options_.patience.first_retry = 50ms;
    options_.say = [this](std::string_view sentence) { Note(said_, sentence); };
    options_.refuse = [this](std::string_view sentence) { Note(refused_, sentence); };
    thread_ = std::jthread([this](std::stop_token stop) { status_ = RunSimulate(options_, stop); });
  }
  int Stop() {
    thread_.request_stop();
    thread_.join();
    return status_;
  }
  bool HasSaid(std::string_view words) const { return Holds(said_, words); }
  bool HasRefused(std::string_view words) const { return Holds(refused_, words); }

 private:
  void Note(std::string& into, std::string_view sentence) {
    const std::scoped_lock lock(mutex_);
    into += std::string{sentence} + "\n";
  }
  bool Holds(const std::string& text, std::string_view words) const {
    const std::scoped_lock lock(mutex_);
    return text.find(words) != std::string::npos;
  }

  SimulateOptions options_;
  TrialClock clock_{kStart};
  mutable std::mutex mutex_;
  std::string said_, refused_;
  int status_ = -1;
  std::jthread thread_;
};

SimulateOptions At(std::uint16_t port) {
  SimulateOptions options;
  options.broker.port = port;
  return options;
}

}  // namespace

TEST_CASE("the fridge's probes publish as real ones do, obey commands by MQTT and stop when asked") {
  tests::Mosquitto broker;
  broker.Publish("simulate/command", "compressor dead", {"-r"});
  Ear ear{broker.Port()};
  Run run{At(broker.Port())};
  REQUIRE(Eventually([&] {
    return ear.Count(kDemoFridgeTopic) >= 5 && ear.Count(kDemoBoxTopic) >= 5 && ear.Count(kDemoPlugTopic) >= 5;
  }));
  const auto fridge = ear.Of(kDemoFridgeTopic);
  CHECK(fridge[0].starts_with(R"({"t":1)"));
  CHECK(fridge[0].find(R"("ts":17640)") != std::string::npos);
  CHECK(run.HasSaid("connected to 127.0.0.1:" + std::to_string(broker.Port())));
  // A retained command is yesterday's.
  CHECK_FALSE(run.HasSaid("compressor dead"));

  broker.Publish("simulate/command", "probe silent box 1 AIR");
  REQUIRE(Eventually([&] { return run.HasSaid("the fridge: probe silent box 1 AIR"); }));
  // What was under way may still come.
  const auto plug = ear.Count(kDemoPlugTopic);
  REQUIRE(Eventually([&] { return ear.Count(kDemoPlugTopic) >= plug + 3; }));
  const auto box = ear.Count(kDemoBoxTopic);
  REQUIRE(Eventually([&] { return ear.Count(kDemoPlugTopic) >= plug + 8; }));
  CHECK(ear.Count(kDemoBoxTopic) == box);

  broker.Publish("simulate/command", "dor ajar");
  broker.Publish("simulate/command", "probe silent Cellar");
  CHECK(Eventually([&] { return run.HasRefused("\"dor ajar\": no such mishap; known are"); }));
  CHECK(Eventually([&] { return run.HasRefused("there is no probe \"Cellar\"; there are: Fridge air, Box 1 air"); }));
  CHECK(run.Stop() == 0);
}

TEST_CASE("a broker that is absent is told once, and found when it comes") {
  tests::Mosquitto broker;
  broker.Stop();
  Run run{At(broker.Port())};
  REQUIRE(Eventually([&] { return run.HasSaid("cannot reach 127.0.0.1:" + std::to_string(broker.Port())); }));
  broker.Start();
  Ear ear{broker.Port()};
  CHECK(Eventually([&] { return ear.Count(kDemoFridgeTopic) >= 2; }));
  CHECK(run.Stop() == 0);
}

TEST_CASE("a lived fridge goes on where its past ended: no minute twice, none left out") {
  tests::Mosquitto broker;
  Ear ear{broker.Port()};
  LivedFridge lived = DemoFridgeBefore(kStart, 2h, 20, rules::Zone{});
  std::vector<std::string> past;
  LivePast(lived, kStart, [&](const ProbeMessage& message) {
    if (message.topic == kDemoFridgeTopic) past.push_back(message.payload);
    return true;
  });
  // The broker knows us before the first minute is over: what is said before that is lost, as with real probes.
  SimulateOptions options = At(broker.Port());
  options.lived = lived;
  Run run{std::move(options)};
  REQUIRE(Eventually([&] { return ear.Count(kDemoFridgeTopic) >= 5; }));
  run.Stop();
  const auto instant = [](const std::string& payload) { return std::stoll(payload.substr(payload.find("ts\":") + 4)); };
  const auto live = ear.Of(kDemoFridgeTopic);
  CHECK(instant(live[0]) > instant(past.back()));
  for (std::size_t i = 1; i < live.size(); ++i) CHECK(instant(live[i]) == instant(live[i - 1]) + 60);
  CHECK((instant(live[0]) - instant(past.back())) % 60 == 0);
}

TEST_CASE("commands are taken from a descriptor too") {
  tests::Mosquitto broker;
  int ends[2];
  REQUIRE(pipe(ends) == 0);
  SimulateOptions options = At(broker.Port());
  options.command_lines = ends[0];
  options.command_topic.clear();
  Run run{std::move(options)};
  REQUIRE(write(ends[1], "door ajar 2h\n\n", 14) == 14);
  CHECK(Eventually([&] { return run.HasSaid("the fridge: door ajar 2h"); }));
  CHECK(run.Stop() == 0);
  close(ends[0]);
  close(ends[1]);
}

TEST_CASE("a simulation without a clock is refused") {
  SimulateOptions options;
  CHECK_THROWS_AS(RunSimulate(options, std::stop_token{}), std::invalid_argument);
}
