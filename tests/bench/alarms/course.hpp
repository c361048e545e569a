// What a simulated fridge lived through, minute by minute: what its probes said and how its wheels fared. Simulated
// once and kept in a folder, for the rules are tuned on the same courses again and again. Invented.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rindwatch::bench {

enum class Trouble { kQuiet, kRough, kDead, kIced, kDrifts, kPower, kStuck, kWet, kWick, kSticks };
inline constexpr Trouble kTroubles[] = {Trouble::kQuiet,  Trouble::kRough, Trouble::kDead,  Trouble::kIced,
                                        Trouble::kDrifts, Trouble::kPower, Trouble::kStuck, Trouble::kWet,
                                        Trouble::kWick,   Trouble::kSticks};
const char* ToText(Trouble trouble);
std::optional<Trouble> TroubleFrom(std::string_view text);

struct Minute {
  static constexpr std::int16_t kNothing = -32768;
  static constexpr int kWheels = 3;                          // 250 g, 2 kg, 5 kg
  std::int16_t temperature = kNothing, humidity = kNothing;  // hundredths; as said by the probe
  std::int16_t second_temperature = kNothing, second_humidity = kNothing;
  std::int16_t cores[kWheels] = {};  // hundredths; what no probe can know
  std::int16_t door = 0;             // hundredths open
};

struct Course {
  Trouble trouble;
  int seed = 0;
  std::optional<int> begins;  // the minute at which it goes wrong
  std::vector<Minute> minutes;
};

// From the folder if it is there, else simulated and kept.
Course CourseOf(Trouble trouble, int seed, const std::string& folder);

}  // namespace rindwatch::bench
