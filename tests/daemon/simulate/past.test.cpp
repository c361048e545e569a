#include "daemon/simulate/past.hpp"

#include <map>

#include "sensors/decoder.hpp"
#include "tests/catch.hpp"

using namespace rindwatch;
using namespace std::chrono_literals;

namespace {

const rules::Instant kNow = rules::FromMillis(1'764'055'800'123);  // 2025-11-25 07:30 UTC and some
const rules::Zone kZone{"UTC+1", 1h, {}};

std::vector<ProbeMessage> Lived(LivedFridge& lived, rules::Instant to) {
  std::vector<ProbeMessage> messages;
  LivePast(lived, to, [&](const ProbeMessage& message) {
    messages.push_back(message);
    return true;
  });
  return messages;
}

bool Same(const ProbeMessage& a, const ProbeMessage& b) {
  return a.topic == b.topic && a.payload == b.payload && a.at == b.at;
}

}  // namespace

TEST_CASE("fourteen days are lived in the order of time, one message a probe and minute, and end now") {
  LivedFridge lived = DemoFridgeBefore(kNow, 24h * 14, 20, kZone);
  CHECK(lived.At() == std::chrono::floor<std::chrono::seconds>(kNow) - 24h * 14);
  const auto messages = Lived(lived, kNow);
  std::map<std::string, int> count;
  rules::Instant last{};
  for (const ProbeMessage& message : messages) {
    ++count[message.topic];
    if (message.at < last || message.at > kNow) FAIL("out of order");
    last = message.at;
  }
  CHECK(count.size() == 3);
  for (const auto& [topic, n] : count) CHECK(n == 14 * 1440);
  CHECK(kNow - last < 61s);
  CHECK(lived.At() == std::chrono::floor<std::chrono::seconds>(kNow));
}

TEST_CASE("a past lived in two parts is the same past") {
  LivedFridge whole = DemoFridgeBefore(kNow, 24h, 20, kZone);
  LivedFridge parted = whole;
  const auto all = Lived(whole, kNow);
  auto parts = Lived(parted, kNow - 7h - 123s);
  const auto rest = Lived(parted, kNow);
  parts.insert(parts.end(), rest.begin(), rest.end());
  CHECK(std::equal(all.begin(), all.end(), parts.begin(), parts.end(), Same));
}

TEST_CASE("living the past stops when the listener has had enough") {
  LivedFridge lived = DemoFridgeBefore(kNow, 24h, 20, kZone);
  int heard = 0;
  LivePast(lived, kNow, [&](const ProbeMessage&) { return ++heard < 5; });
  CHECK(heard == 5);
}

TEST_CASE("an evening of the past is warm because the door stood open, by the keeper's own clock") {
  LivedFridge lived = DemoFridgeBefore(kNow, 24h * 14, 20, kZone);
  bool ajar = false;
  rules::Instant from{}, until{};
  while (lived.At() < kNow - 60s) {
    const auto truth = lived.fridge.Step(60s).truth;
    // The keeper's round opens the door wholly; only a door left ajar stands between.
    const bool is = truth.door > 0 && truth.door < 1;
    if (is && !ajar && from == rules::Instant{}) from = lived.At();
    if (!is && ajar) until = lived.At();
    ajar = is;
  }
  CHECK(kZone.ToLocal(from) - std::chrono::floor<std::chrono::days>(kZone.ToLocal(from)) < 18h + 32min);
  CHECK(kZone.ToLocal(from) - std::chrono::floor<std::chrono::days>(kZone.ToLocal(from)) >= 18h + 30min);
  CHECK(until - from > 1h + 45min);
  CHECK(kNow - from > 60h - 1min);
  CHECK(kNow - from < 84h);
}

TEST_CASE("what the demo's probes say is read by routes as a keeper would set them") {
  using sensors::Format;
  using sensors::Unit;
  using Kind = rules::ChannelKind;
  const std::map<std::string, sensors::Route> routes = {
      {std::string{kDemoFridgeTopic},
       {.filter = std::string{kDemoFridgeTopic},
        .probe = 1,
        .format = Format::kJson,
        .channels = {{1, Kind::kTemperature, "/t", Unit::kCelsius}, {2, Kind::kHumidity, "/rh", Unit::kPercent}},
        .time_pointer = "/ts"}},
      {std::string{kDemoBoxTopic},
       {.filter = std::string{kDemoBoxTopic},
        .probe = 2,
        .format = Format::kJson,
        .channels = {{3, Kind::kTemperature, "/temperature", Unit::kCelsius},
                     {4, Kind::kHumidity, "/humidity", Unit::kPercent}},
        .time_pointer = {}}},
      {std::string{kDemoPlugTopic},
       {.filter = std::string{kDemoPlugTopic},
        .probe = 3,
        .format = Format::kPlain,
        .channels = {{5, Kind::kPlantPower, "", Unit::kWatt}},
        .time_pointer = {}}}};
  LivedFridge lived = DemoFridgeBefore(kNow, 2h, 20, kZone);
  for (const ProbeMessage& message : Lived(lived, kNow)) {
    const sensors::Route& route = routes.at(message.topic);
    const auto decoded = sensors::Decode(route, message.payload);
    REQUIRE(decoded.faults.empty());
    REQUIRE(decoded.values.size() == route.channels.size());
    if (route.time_pointer) CHECK(decoded.own_time == message.at);
  }
}
