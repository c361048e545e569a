#include "sensors/mqtt/subscriber.hpp"

#include <algorithm>
#include <regex>
#include <set>
#include <sstream>

#include "sensors/mqtt/publisher.hpp"
#include "tests/catch.hpp"
#include "tests/sensors/mqtt/stage.hpp"

using namespace rindwatch::sensors;
using namespace rindwatch::tests;
using rindwatch::rules::Has;
using rindwatch::rules::Mark;
using rindwatch::rules::TimeSource;
using Values = std::vector<std::int64_t>;

namespace {

const std::string kAcknowledged = "Received PUBACK from test-watch";

// What the broker noted after it has written everything down.
std::size_t AcknowledgedAtTheEnd(Mosquitto& broker) {
  broker.Stop();
  return broker.CountInLog(kAcknowledged);
}

// The numbers under which the broker sent what was published to "probe", each once, and those of all acknowledgements,
// in their order. A message that comes again over a kept session keeps its number.
struct Exchanged {
  std::set<int> sent;
  std::vector<int> acknowledged;
  auto TimesAcknowledged(int message) const { return std::ranges::count(acknowledged, message); }
};
Exchanged ExchangedWith(const Mosquitto& broker) {
  static const std::regex sent("Sending PUBLISH to test-watch \\(d\\d, q1, r\\d, m(\\d+), 'probe'");
  static const std::regex acknowledged("Received PUBACK from test-watch \\(Mid: (\\d+)");
  Exchanged exchanged;
  std::istringstream log(broker.Log());
  std::smatch found;
  for (std::string line; std::getline(log, line);) {
    if (std::regex_search(line, found, sent)) exchanged.sent.insert(std::stoi(found[1]));
    if (std::regex_search(line, found, acknowledged)) exchanged.acknowledged.push_back(std::stoi(found[1]));
  }
  return exchanged;
}

}  // namespace

TEST_CASE("a probe's message reaches sink and listener, kept and live") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  broker.Publish("probe", "12.5");
  REQUIRE(watch.WaitForValues(1));
  REQUIRE(Eventually([&] { return watch.listener.So().readings.size() == 1; }));
  const auto reading = watch.listener.So().readings.front();
  CHECK(reading == watch.sink.Readings().front());
  CHECK(reading.milli == 12'500);
  CHECK(reading.source == TimeSource::kArrival);
  CHECK(Has(reading.marks, Mark::kLive));
  CHECK(watch.sink.Batches().front().topic == "probe");
  CHECK(watch.sink.Batches().front().fingerprint == FingerprintOf("probe", "12.5"));
  CHECK(watch.listener.So().arriving == std::map<std::string, std::string>{{"probe", "12.5"}});
  CHECK(watch.listener.So().connection == std::vector<std::pair<bool, std::string>>{{true, ""}});
  CHECK(broker.CountInLog("as test-watch (p2, c0") ==
        1);  // MQTT 3.1.1 is protocol 2 in the broker's log; c0: kept session
}

TEST_CASE("nothing is acknowledged before it is kept") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Hold();
  broker.Publish("probe", "1");
  REQUIRE(Eventually([&] { return watch.sink.Asked() == 1; }));
  // The broker answers others meanwhile, so it would have heard an acknowledgement too.
  broker.Publish("other", "x");
  CHECK(broker.CountInLog(kAcknowledged) == 0);
  watch.sink.Release();
  CHECK(Eventually([&] { return broker.CountInLog(kAcknowledged) == 1; }));
}

TEST_CASE("what the sink refuses is never acknowledged, comes again, and is kept once") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Refuse(5);
  for (const auto* value : {"1", "2", "3"}) broker.Publish("probe", value);
  REQUIRE(watch.WaitForValues(3));
  CHECK(watch.sink.Values() == Values{1, 2, 3});
  CHECK(watch.sink.Asked() == 8);
  const auto heard = watch.listener.So();
  const auto down =
      std::find_if(heard.connection.begin(), heard.connection.end(), [](const auto& c) { return !c.first; });
  REQUIRE(down != heard.connection.end());
  CHECK(down->second.find("The store refused a message") == 0);
  const auto all_acknowledged = [&] {
    const Exchanged now = ExchangedWith(broker);
    return std::ranges::all_of(now.sent, [&](int message) { return now.TimesAcknowledged(message) > 0; });
  };
  // What is kept a moment before the end may leave without its acknowledgement, and would rightly come again.
  REQUIRE(Eventually(all_acknowledged));
  watch.subscriber.Stop();
  broker.Stop();
  // On the wire: each message was acknowledged once; none of the five refused times, or it would not have come again.
  // The marker of the last connection is acknowledged too, if it comes back before the end, and is none of them.
  const Exchanged exchanged = ExchangedWith(broker);
  REQUIRE(exchanged.sent.size() == 3);
  for (const int message : exchanged.sent) CHECK(exchanged.TimesAcknowledged(message) == 1);
}

TEST_CASE("a store that refuses for long keeps the broker's queue, and is told once") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Refuse(1'000'000);
  std::vector<std::string> lines;
  for (int i = 1; i <= 50; ++i) lines.push_back(std::to_string(i));
  broker.PublishLines("probe", lines);
  REQUIRE(Eventually([&] { return watch.sink.Asked() > 10; }));
  CHECK(broker.CountInLog(kAcknowledged) == 0);
  watch.sink.Refuse(0);
  REQUIRE(watch.WaitForValues(50));
  const auto values = watch.sink.Values();
  REQUIRE(values.size() == 50);
  for (int i = 1; i <= 50; ++i) CHECK(values[static_cast<std::size_t>(i - 1)] == i);
}

TEST_CASE("a message of quality 0 that is refused cuts the connection as well") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Refuse(1);
  broker.Publish("probe", "1", {"-q", "0"});
  CHECK(Eventually([&] { return watch.listener.So().connection.size() == 3; }));  // up, down, up
  broker.Publish("probe", "2");
  REQUIRE(watch.WaitForValues(1));
  CHECK(watch.sink.Values() == Values{2});
}

TEST_CASE("cutting the readings' connection leaves the publisher's alone") {
  Mosquitto broker;
  Publisher::Settings out;
  out.broker.port = broker.Port();
  out.patience = Impatient();
  Publisher publisher(out);
  publisher.Start();
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  REQUIRE(Eventually([&] { return publisher.IsConnected(); }));
  // On a machine that stalls an impatient link may have needed a second try.
  const std::size_t tries = broker.CountInLog("as rindwatch-out (p2");
  watch.sink.Refuse(3);
  broker.Publish("probe", "1");
  REQUIRE(watch.WaitForValues(1));
  publisher.SetState("rindwatch/state", "here");
  REQUIRE(publisher.Flush(std::chrono::seconds(20)));
  CHECK(broker.CountInLog("as rindwatch-out (p2") == tries);
  CHECK(broker.CountInLog("as test-watch (p2") == 4);
}

TEST_CASE("a broker that is absent at the start is told once and found when it comes") {
  Mosquitto broker;
  broker.Stop();
  Watch watch(SettingsFor(broker));
  watch.Start();
  REQUIRE(Eventually([&] { return !watch.listener.So().connection.empty(); }));
  CHECK_FALSE(watch.subscriber.IsConnected());
  broker.Start();
  REQUIRE(Eventually([&] { return watch.subscriber.IsConnected(); }));
  broker.Publish("probe", "3");
  REQUIRE(watch.WaitForValues(1));
  const auto told = watch.listener.So().connection;
  REQUIRE(told.size() == 2);
  CHECK(told[0].second == "No broker answers at 127.0.0.1:" + std::to_string(broker.Port()) +
                              "; start it or correct its address. It is tried again until it answers.");
  CHECK(told[1].first);
}

TEST_CASE("a broker that goes and comes back is subscribed to again, with or without its memory") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  broker.Publish("probe", "1");
  // Else the broker may end before it has read the acknowledgement, and rightly sends the message again.
  REQUIRE(Eventually([&] { return broker.CountInLog(kAcknowledged) == 1; }));
  const bool forgets = GENERATE(false, true);
  broker.Stop();
  REQUIRE(Eventually([&] { return !watch.subscriber.IsConnected(); }));
  if (forgets) broker.Forget();
  broker.Start();
  REQUIRE(Eventually([&] { return watch.subscriber.IsConnected(); }));
  broker.Publish("probe", "2");
  REQUIRE(watch.WaitForValues(2));
  CHECK(watch.sink.Values() == Values{1, 2});
  REQUIRE(Eventually([&] { return watch.listener.So().connection.back().first; }));
  // Down is told once for each reason: lost, perhaps absent for a while.
  const auto told = watch.listener.So().connection;
  CHECK(told.size() >= 3);
  CHECK(told.size() <= 4);
  CHECK(told.back().first);
}

TEST_CASE("a user without the right password is told what to correct") {
  Mosquitto broker({.user = "keeper", .password = "brine", .access = {}, .more = {}});
  auto settings = SettingsFor(broker);
  settings.broker.user = "keeper";
  settings.broker.password = "whey";
  const auto why = [](const Watch& watch) {
    const auto told = watch.listener.So().connection;
    return told.empty() ? "" : told.front().second;
  };
  {
    Watch watch(settings);
    watch.Start();
    REQUIRE(Eventually([&] { return !why(watch).empty(); }));
    CHECK(why(watch).find("The broker at 127.0.0.1:") == 0);
    CHECK(why(watch).find("user name") != std::string::npos);
  }
  settings.broker.password = "brine";
  Watch watch(settings);
  REQUIRE(watch.StartAndConnect());
  broker.Publish("probe", "4");
  CHECK(watch.WaitForValues(1));
}

TEST_CASE("retained messages are shown as arriving and never kept") {
  Mosquitto broker;
  broker.Publish("probe", "7", {"-r"});
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  REQUIRE(Eventually([&] { return watch.listener.So().arriving.contains("probe"); }));
  // Published as retained but to one who listens already, it is news like any other.
  broker.Publish("probe", "8", {"-r"});
  REQUIRE(watch.WaitForValues(1));
  CHECK(watch.sink.Values() == Values{8});
  CHECK(watch.listener.So().invalid.empty());
}

TEST_CASE("what waited at the broker is backlog, what comes afterwards is live") {
  Mosquitto broker;
  {
    Watch before(SettingsFor(broker));
    REQUIRE(before.StartAndConnect());
  }
  std::vector<std::string> lines;
  for (int i = 1; i <= 60; ++i) lines.push_back(std::to_string(i));
  broker.PublishLines("probe", lines);
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  REQUIRE(watch.WaitForValues(60));
  // The marker comes back behind them and ends the backlog.
  REQUIRE(Eventually([&] {
    broker.Publish("probe", "99");
    const auto readings = watch.sink.Readings();
    return readings.back().source == TimeSource::kArrival;
  }));
  const auto readings = watch.sink.Readings();
  for (std::size_t i = 0; i < 60; ++i) {
    CHECK(readings[i].milli == static_cast<std::int64_t>(i + 1) * 1000);
    CHECK(readings[i].source == TimeSource::kBacklog);
    CHECK(readings[i].marks == 0);
  }
  CHECK(Has(readings.back().marks, Mark::kLive));
}

TEST_CASE("where the broker forbids the marker, what waited is backlog all the same") {
  Mosquitto broker({.user = "", .password = "", .access = {"topic readwrite probe"}, .more = {}});
  { REQUIRE(Watch(SettingsFor(broker)).StartAndConnect()); }
  broker.PublishLines("probe", {"1", "2"});
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  REQUIRE(watch.WaitForValues(2));
  for (const auto& reading : watch.sink.Readings()) CHECK(reading.source == TimeSource::kBacklog);
}

TEST_CASE("bad payloads are told and acknowledged, and stop nothing") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  for (const auto* payload : {"abc", "NaN", "1e309", "-500"}) broker.Publish("probe", payload);
  broker.Publish("probe", std::string(1 << 20, '9'));
  broker.Publish("probe", "5");
  REQUIRE(watch.WaitForValues(1));
  CHECK(watch.sink.Values() == Values{5});
  const auto invalid = watch.listener.So().invalid;
  REQUIRE(invalid.size() == 5);
  CHECK(invalid[0] == "probe | abc | expected a number such as 12.5, found \"abc\"");
  CHECK(invalid[4].find("expected at most 65536 bytes, found 1048576") != std::string::npos);
  // What is kept a moment before the end may leave without its acknowledgement.
  REQUIRE(Eventually([&] { return broker.CountInLog(kAcknowledged) == 6; }));
  watch.subscriber.Stop();
  CHECK(AcknowledgedAtTheEnd(broker) == 6);
}

TEST_CASE("an own time that was kept with another value is told as invalid and is no news") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  watch.sink.Answer(Kept::kConflict);
  broker.Publish("probe", "5");
  REQUIRE(Eventually([&] { return watch.listener.So().invalid.size() == 1; }));
  CHECK(watch.listener.So().readings.empty());
}

TEST_CASE("routes can change while we listen") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker), {PlainRoute("a"), PlainRoute("b", 2)});
  REQUIRE(watch.StartAndConnect());
  watch.subscriber.SetRoutes({PlainRoute("b", 3), PlainRoute("c/+", 4)});
  REQUIRE(Eventually([&] { return broker.CountInLog("Received UNSUBSCRIBE from test-watch") == 1; }));
  broker.Publish("a", "1");
  broker.Publish("b", "2");
  broker.Publish("c/x", "3");
  REQUIRE(watch.WaitForValues(2));
  CHECK(watch.sink.Values() == Values{2, 3});
  CHECK(watch.sink.Readings()[0].channel == 3);
  CHECK(watch.sink.Readings()[1].channel == 4);
}

TEST_CASE("filters that overlap do not bring a reading twice") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker), {PlainRoute("cellar/+/t", 1), PlainRoute("cellar/box/+", 2)});
  REQUIRE(watch.StartAndConnect());
  broker.Publish("cellar/box/t", "1");
  broker.Publish("cellar/room/t", "2");
  REQUIRE(watch.WaitForValues(3));
  CHECK(watch.sink.Batches().size() == 2);
  CHECK(watch.sink.Values() == Values{1, 1, 2});
}

TEST_CASE("what an earlier life had subscribed to is given up") {
  Mosquitto broker;
  { REQUIRE(Watch(SettingsFor(broker), {PlainRoute("old")}).StartAndConnect()); }
  auto settings = SettingsFor(broker);
  settings.former_filters = {"old"};
  Watch watch(settings);
  REQUIRE(watch.StartAndConnect());
  CHECK(broker.CountInLog("Received UNSUBSCRIBE from test-watch") == 1);
  broker.Publish("old", "1");
  broker.Publish("probe", "2");
  REQUIRE(watch.WaitForValues(1));
  CHECK_FALSE(watch.listener.So().arriving.contains("old"));
}

TEST_CASE("foreign topics are shown as arriving, never kept, and leave no trace in the session") {
  Mosquitto broker;
  auto settings = SettingsFor(broker);
  settings.discovery = "#";
  Watch watch(settings);
  REQUIRE(watch.StartAndConnect());
  REQUIRE(Eventually([&] {
    broker.Publish("attic/t", "20.1");
    return watch.listener.So().arriving.contains("attic/t");
  }));
  broker.Publish("rindwatch/alive", "1");
  broker.Publish("probe", "12");
  REQUIRE(watch.WaitForValues(1));
  CHECK(watch.sink.Values() == Values{12});
  CHECK(watch.listener.So().arriving.at("attic/t") == "20.1");
  CHECK_FALSE(watch.listener.So().arriving.contains("rindwatch/alive"));
  CHECK(watch.listener.So().invalid.empty());
  watch.subscriber.Stop();
  broker.Publish("attic/t", "20.2");
  broker.Stop();
  CHECK(broker.CountInLog("Sending PUBLISH to test-watch (d0, q1, r0, m2") == 0);
}

TEST_CASE("until the clock is known readings are held") {
  Mosquitto broker;
  Watch watch(SettingsFor(broker));
  watch.subscriber.SetClockKnown(false);
  REQUIRE(watch.StartAndConnect());
  broker.Publish("probe", "1");
  REQUIRE(watch.WaitForValues(1));
  watch.subscriber.SetClockKnown(true);
  broker.Publish("probe", "2");
  REQUIRE(watch.WaitForValues(2));
  CHECK(watch.sink.Readings()[0].source == TimeSource::kHeld);
  CHECK(watch.sink.Readings()[1].source == TimeSource::kArrival);
}

TEST_CASE("stopping waits for the message that is being kept and leaves the rest with the broker") {
  Mosquitto broker;
  {
    Watch watch(SettingsFor(broker));
    REQUIRE(watch.StartAndConnect());
    watch.sink.Hold();
    broker.PublishLines("probe", {"1", "2", "3"});
    REQUIRE(Eventually([&] { return watch.sink.Asked() == 1; }));
    std::thread stop([&] { watch.subscriber.Stop(); });
    watch.sink.Release();
    stop.join();
    watch.subscriber.Stop();
    CHECK_FALSE(watch.subscriber.IsConnected());
  }
  Watch watch(SettingsFor(broker));
  REQUIRE(watch.StartAndConnect());
  broker.Publish("probe", "4");
  REQUIRE(Eventually([&] {
    const auto values = watch.sink.Values();
    return std::find(values.begin(), values.end(), 4) != values.end();
  }));
}

TEST_CASE("a subscriber can be stopped before it found a broker, and without being started") {
  Mosquitto broker;
  broker.Stop();
  { const Watch never(SettingsFor(broker)); }
  auto settings = SettingsFor(broker);
  settings.patience.first_retry = std::chrono::hours(1);
  Watch watch(settings);
  watch.Start();
  REQUIRE(Eventually([&] { return watch.listener.So().connection.size() == 1; }));
  watch.subscriber.Stop();
  CHECK(watch.listener.So().connection.size() == 1);
}

TEST_CASE("settings that cannot work are refused before anything starts") {
  const auto refused = [](auto spoil) {
    Subscriber::Settings settings;
    spoil(settings);
    CHECK_THROWS_AS(Watch(settings), std::invalid_argument);
  };
  refused([](auto& settings) { settings.discovery = "a#"; });
  refused([](auto& settings) { settings.client_id.clear(); });
  refused([](auto& settings) { settings.own_prefix = "a/+"; });
}
