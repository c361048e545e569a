#include "daemon/simulate/speech.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <iterator>

#include "sensors/simulated/demo.hpp"

namespace rindwatch {

namespace {

using sensors::simulated::ProbeReading;
using Kind = rules::ChannelKind;

std::string_view ShortKey(Kind kind) {
  switch (kind) {
    case Kind::kTemperature:
      return "t";
    case Kind::kHumidity:
      return "rh";
    case Kind::kWheelTemperature:
      return "core";
    case Kind::kDoor:
      return "door";
    case Kind::kPlantPower:
      return "w";
    case Kind::kCarbonDioxide:
      return "co2";
    case Kind::kAmmonia:
      return "nh3";
    case Kind::kBattery:
      return "bat";
    case Kind::kWeight:
      return "g";
    case Kind::kHumidifierWater:
      return "wet";
    case Kind::kDrainWater:
      return "drain";
  }
  return "value";
}

std::string_view LongKey(Kind kind) {
  switch (kind) {
    case Kind::kTemperature:
      return "temperature";
    case Kind::kHumidity:
      return "humidity";
    case Kind::kWheelTemperature:
      return "core";
    case Kind::kDoor:
      return "door";
    case Kind::kPlantPower:
      return "power";
    case Kind::kCarbonDioxide:
      return "co2";
    case Kind::kAmmonia:
      return "ammonia";
    case Kind::kBattery:
      return "battery";
    case Kind::kWeight:
      return "weight";
    case Kind::kHumidifierWater:
      return "humidifier";
    case Kind::kDrainWater:
      return "drain";
  }
  return "value";
}

// Neither locale nor exponent: what a probe's small firmware prints.
std::string Number(const ProbeReading& reading) {
  return IsContact(reading.kind) ? fmt::format("{:.0f}", reading.value) : fmt::format("{:.1f}", reading.value);
}

std::string Object(std::span<const ProbeReading> said, std::string_view (*key)(Kind), std::string_view last) {
  std::string text = "{";
  for (const ProbeReading& reading : said) {
    if (text.size() > 1) text += ',';
    text += fmt::format("\"{}\":{}", key(reading.kind), Number(reading));
  }
  return text + std::string{last} + "}";
}

void SpeakOnce(std::span<const ProbeReading> said, const Speech& speech, rules::Instant at,
               std::vector<ProbeMessage>& out) {
  switch (speech.style) {
    case Style::kTimed: {
      const auto since_1970 = std::chrono::floor<std::chrono::seconds>(at).time_since_epoch().count();
      out.push_back({speech.topic, Object(said, ShortKey, fmt::format(",\"ts\":{}", since_1970)), at});
      return;
    }
    case Style::kNamed:
      out.push_back({speech.topic, Object(said, LongKey, ""), at});
      return;
    case Style::kPlain:
      for (const ProbeReading& reading : said) out.push_back({speech.topic, Number(reading), at});
      return;
  }
}

}  // namespace

std::vector<Speech> DemoSpeech() {
  using namespace sensors::simulated;
  return {{std::string{kDemoFridgeProbe}, std::string{kDemoFridgeTopic}, Style::kTimed},
          {std::string{kDemoBoxProbe}, std::string{kDemoBoxTopic}, Style::kNamed},
          {std::string{kDemoPlugProbe}, std::string{kDemoPlugTopic}, Style::kPlain}};
}

std::vector<ProbeMessage> Speak(std::span<const ProbeReading> readings, std::span<const Speech> speeches,
                                rules::Instant zero) {
  std::vector<ProbeMessage> messages;
  for (auto from = readings.begin(); from != readings.end();) {
    const auto until = std::find_if(from, readings.end(), [&](const ProbeReading& reading) {
      return reading.probe != from->probe || reading.at != from->at;
    });
    const auto speech =
        std::find_if(speeches.begin(), speeches.end(), [&](const Speech& one) { return one.probe == from->probe; });
    if (speech != speeches.end()) SpeakOnce({from, until}, *speech, zero + from->at, messages);
    from = until;
  }
  return messages;
}

}  // namespace rindwatch
