#include "sensors/mqtt/publisher.hpp"

#include <mutex>
#include <thread>

#include "tests/catch.hpp"
#include "tests/sensors/mqtt/stage.hpp"

using namespace rindwatch::sensors;
using namespace rindwatch::tests;
using std::chrono::seconds;

namespace {

Publisher::Settings SettingsOf(const Mosquitto& broker) {
  Publisher::Settings settings;
  settings.broker.port = broker.Port();
  settings.patience = Impatient();
  settings.alive_topic = "rindwatch/alive";
  return settings;
}

}  // namespace

TEST_CASE("state is retained at the broker, and the alive topic says that we are here until we leave") {
  Mosquitto broker;
  {
    Publisher publisher(SettingsOf(broker));
    publisher.SetState("rindwatch/cave/1", "12.4");
    publisher.Start();
    REQUIRE(publisher.Flush(seconds(20)));
    CHECK(broker.Retained("rindwatch/cave/1") == "12.4");
    CHECK(broker.Retained("rindwatch/alive") == "1");
    publisher.SetState("rindwatch/cave/1", "12.6");
    publisher.Stop();
  }
  CHECK(broker.Retained("rindwatch/cave/1") == "12.6");
  CHECK(broker.Retained("rindwatch/alive") == "0");
}

TEST_CASE("only the last value of a topic is sent after the broker was away") {
  Mosquitto broker;
  broker.Stop();
  Publisher publisher(SettingsOf(broker));
  publisher.Start();
  for (int i = 0; i < 1000; ++i) publisher.SetState("rindwatch/cave/1", std::to_string(i));
  broker.Start();
  REQUIRE(publisher.Flush(seconds(20)));
  CHECK(broker.Retained("rindwatch/cave/1") == "999");
  CHECK(broker.CountInLog("Received PUBLISH from rindwatch-out (d0, q1, r1, m2, 'rindwatch/cave/1'") == 1);
  CHECK(broker.CountInLog("'rindwatch/cave/1', ... (3 bytes))") == 2);  // once in, once out to the reader above
}

TEST_CASE("a broker that forgot the state is told it again") {
  Mosquitto broker;
  Publisher publisher(SettingsOf(broker));
  publisher.Start();
  publisher.SetState("rindwatch/cave/1", "12.4");
  REQUIRE(publisher.Flush(seconds(20)));
  broker.Stop();
  broker.Forget();
  broker.Start();
  CHECK(Eventually([&] { return broker.Retained("rindwatch/cave/1") == "12.4"; }));
}

TEST_CASE("a state taken away is gone at the broker") {
  Mosquitto broker;
  Publisher publisher(SettingsOf(broker));
  publisher.Start();
  publisher.SetState("rindwatch/cave/1", "12.4");
  publisher.ClearState("rindwatch/cave/1");
  publisher.SetState("rindwatch/cave/2", "8");
  publisher.SetState("rindwatch/cave/2", "9");
  REQUIRE(publisher.Flush(seconds(20)));
  CHECK(broker.Retained("rindwatch/cave/2") == "9");
  CHECK(broker.Retained("rindwatch/cave/1").empty());
}

TEST_CASE("single messages come in order, as from a probe") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  auto settings = SettingsOf(broker);
  settings.alive_topic.clear();
  Publisher publisher(settings);
  publisher.Start();
  for (int i = 0; i < 50; ++i) publisher.Send("probe", std::to_string(i));
  REQUIRE(publisher.Flush(seconds(20)));
  REQUIRE(watch.WaitForValues(50));
  const auto values = watch.sink.Values();
  for (std::size_t i = 0; i < 50; ++i) CHECK(values[i] == static_cast<std::int64_t>(i));
  CHECK(broker.Retained("probe").empty());
}

TEST_CASE("of messages without end the oldest are dropped and counted") {
  Mosquitto broker;
  broker.Stop();
  auto settings = SettingsOf(broker);
  settings.queue_bound = 10;
  Publisher publisher(settings);
  for (int i = 0; i < 25; ++i) publisher.Send("probe", std::to_string(i));
  CHECK(publisher.Dropped() == 15);
  broker.Start();
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  publisher.Start();
  REQUIRE(watch.WaitForValues(10));
  CHECK(watch.sink.Values().front() == 15);
  CHECK(watch.sink.Values().back() == 24);
}

TEST_CASE("publishing never waits for readings that are being kept") {
  Mosquitto broker;
  Publisher publisher(SettingsOf(broker));
  publisher.Start();
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Hold();
  broker.Publish("probe", "1");
  REQUIRE(Eventually([&] { return watch.sink.Asked() == 1; }));
  publisher.SetState("rindwatch/cave/1", "12.4");  // returns, though the library is held up
  publisher.Send("other", "x");
  watch.sink.Release();
  CHECK(publisher.Flush(seconds(20)));
}

TEST_CASE("a topic that nobody may publish to is refused in one sentence") {
  const Mosquitto broker;
  Publisher publisher(SettingsOf(broker));
  CHECK_THROWS_AS(publisher.SetState("a/#", "1"), std::invalid_argument);
  CHECK_THROWS_AS(publisher.Send("", "1"), std::invalid_argument);
  auto settings = SettingsOf(broker);
  settings.alive_topic = "+/alive";
  CHECK_THROWS_AS(Publisher(settings), std::invalid_argument);
}

TEST_CASE("ups and downs of the publisher are told once each") {
  Mosquitto broker;
  broker.Stop();
  std::mutex mutex;
  std::vector<std::pair<bool, std::string>> told;
  auto settings = SettingsOf(broker);
  settings.on_connection = [&](bool up, std::string_view why) {
    const std::scoped_lock lock(mutex);
    told.emplace_back(up, why);
  };
  const auto count = [&] {
    const std::scoped_lock lock(mutex);
    return told.size();
  };
  Publisher publisher(settings);
  publisher.Start();
  REQUIRE(Eventually([&] { return count() == 1; }));
  broker.Start();
  REQUIRE(Eventually([&] { return count() == 2; }));
  publisher.Stop();
  CHECK(count() == 2);
  CHECK_FALSE(told[0].first);
  CHECK(told[1].first);
}
