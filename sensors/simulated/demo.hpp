// The places of the trial: invented keepers' invented fridge and cellar, with a story behind them. In the fridge three
// boxes, two small mould-ripened wheels in the first, a pressed semi-hard one in the second, a washed one in the third;
// a probe in the fridge's air, one in Box 1, none in the others. The counter beside the fridge has no probe and is no
// part of the physics.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string_view>

#include "sensors/simulated/fridge.hpp"

namespace rindwatch::sensors::simulated {

inline constexpr std::string_view kDemoFridgeProbe = "Fridge air";  // temperature and humidity
inline constexpr std::string_view kDemoBoxProbe = "Box 1 air";      // temperature and humidity
inline constexpr std::string_view kDemoPlugProbe = "Fridge plug";   // the plant's power
inline constexpr std::string_view kDemoBoxOne = "Box 1";
inline constexpr std::string_view kDemoBoxTwo = "Box 2";
inline constexpr std::string_view kDemoBoxThree = "Box 3";

// The span that is lived before the page opens.
inline constexpr std::chrono::seconds kDemoPast = std::chrono::hours{24 * 14};

struct DemoTimes {
  std::uint64_t seed = 20;
  std::chrono::seconds starts_at{0};      // local time of day at the start
  std::chrono::seconds past = kDemoPast;  // from the start to now
};

// When, since the start, the fridge door was left ajar and when it was found: an evening from 18:30, two and a half to
// three and a half days before now, for an hour and fifty minutes: long enough to ring where wheels of 250 g lie.
struct DemoMishap {
  std::chrono::seconds from, until;
};
// None if the past is too short for it.
std::optional<DemoMishap> DemoDoorLeftAjar(const DemoTimes& times);

// When, since the start, the two small wheels came into Box 1, after a day of drying at 15 °C: at 17:20 nine keeper's
// days ago (a keeper's day turns at 04:00). Before the start if the past is shorter: they lie there already. The lid
// stays ajar until the third morning, so that they go on drying, and is shut then.
std::chrono::seconds DemoBloomiesCame(const DemoTimes& times);

FridgeSpec DemoSpec(const DemoTimes& times);
inline Fridge DemoFridge(const DemoTimes& times) { return Fridge{DemoSpec(times)}; }
// A farm's cellar of 40 m3 with its own plant and a few wheels for the many that lie there; its probe and plug have the
// names of the fridge's.
FridgeSpec DemoCellarSpec(const DemoTimes& times);

// The wheels of the demo, for who shows one: 250 g, 11 cm across, 400 g, 12 cm across, and 1.5 kg, 17.5 cm across.
WheelSpec SmallBloomyWheel(std::string_view name);
WheelSpec SmallWashedWheel(std::string_view name);
WheelSpec PressedWheel(std::string_view name);

}  // namespace rindwatch::sensors::simulated
