// How the simulated fridge's probes speak: the topics they publish to and the bytes of their messages, such as real
// probes send. Pure.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/time.hpp"
#include "sensors/simulated/probe.hpp"

namespace rindwatch {

enum class Style {
  kTimed,  // {"t":12.4,"rh":78.9,"ts":1764055800}: its own time in seconds since 1970
  kNamed,  // {"temperature":12.5,"humidity":93.1}: no time, that of arrival counts
  kPlain,  // 58.3: one message a channel
};

struct Speech {
  std::string probe;  // its name in the fridge
  std::string topic;
  Style style = Style::kNamed;
};

inline constexpr std::string_view kDemoFridgeTopic = "cellar-house/fridge/air";  // timed: /t, /rh, time /ts
inline constexpr std::string_view kDemoBoxTopic = "cellar-house/box1/air";       // named: /temperature, /humidity
inline constexpr std::string_view kDemoPlugTopic = "cellar-house/fridge/plug";   // plain: watts
std::vector<Speech> DemoSpeech();

// One message of a probe, as a broker hands it over.
struct ProbeMessage {
  std::string topic;
  std::string payload;
  rules::Instant at;  // when it was sent
};

// What the readings of a step sound like: the channels that one probe read at one instant share a message. `zero` is
// the instant of the fridge's second 0. A probe without a speech is mute.
std::vector<ProbeMessage> Speak(std::span<const sensors::simulated::ProbeReading> readings,
                                std::span<const Speech> speeches, rules::Instant zero);

}  // namespace rindwatch
