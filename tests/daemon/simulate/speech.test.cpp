#include "daemon/simulate/speech.hpp"

#include "tests/catch.hpp"

using namespace rindwatch;
using sensors::simulated::ProbeReading;
using Kind = rules::ChannelKind;
using namespace std::chrono_literals;

namespace {

const rules::Instant kZero = rules::FromMillis(1'764'055'800'000);

std::vector<ProbeMessage> Said(const ProbeReading& reading, Style style) {
  const std::vector<Speech> speeches = {{"P", "cellar-house/p", style}};
  return Speak(std::vector{reading}, speeches, kZero);
}

}  // namespace

TEST_CASE("the channels that a probe read at one instant share a message, each style in its own words") {
  const std::vector<ProbeReading> readings = {
      {"A", Kind::kTemperature, 12.4, 60s}, {"A", Kind::kHumidity, 78.9, 60s},     {"B", Kind::kTemperature, 12.0, 60s},
      {"B", Kind::kHumidity, 100, 60s},     {"A", Kind::kTemperature, -0.5, 120s}, {"C", Kind::kPlantPower, 58.3, 120s},
      {"mute", Kind::kPlantPower, 1, 120s}};
  const std::vector<Speech> speeches = {
      {"A", "house/a", Style::kTimed}, {"B", "house/b", Style::kNamed}, {"C", "house/c", Style::kPlain}};
  const auto messages = Speak(readings, speeches, kZero);
  REQUIRE(messages.size() == 4);
  CHECK(messages[0].topic == "house/a");
  CHECK(messages[0].payload == R"({"t":12.4,"rh":78.9,"ts":1764055860})");
  CHECK(messages[0].at == kZero + 60s);
  CHECK(messages[1].payload == R"({"temperature":12.0,"humidity":100.0})");
  CHECK(messages[2].payload == R"({"t":-0.5,"ts":1764055920})");
  CHECK(messages[3].topic == "house/c");
  CHECK(messages[3].payload == "58.3");
}

TEST_CASE("a door is 1 or 0, a wheel's core has its own name") {
  CHECK(Said({"P", Kind::kDoor, 1, 0s}, Style::kPlain)[0].payload == "1");
  CHECK(Said({"P", Kind::kWheelTemperature, 12.3, 0s}, Style::kNamed)[0].payload == R"({"core":12.3})");
  CHECK(Said({"P", Kind::kPlantPower, 12.3, 0s}, Style::kTimed)[0].payload == R"({"w":12.3,"ts":1764055800})");
}

TEST_CASE("no readings, no messages") { CHECK(Speak({}, DemoSpeech(), kZero).empty()); }
