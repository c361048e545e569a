// How long until a wheel leaves its band if nothing changes: an honest span, never one figure.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "rules/wheels/lags.hpp"

namespace rindwatch::rules {

struct Outlook {
  double soonest = 0;            // seconds; four in five failures take longer than this and less than `latest`
  std::optional<double> latest;  // none: it may never come to it
};

// Fits the air of the last minutes by a family of courses that approach an end: time constants of 2 to 32 h, ends of 11
// to 29 degrees that lie above the air by half a kelvin at least. Each is weighed by how well it fits (deviation 0.1 K,
// errors that last counted tenfold), and joined with what is not known of the wheel: it follows 0.7 to 1.45 times as
// fast, and the estimate is 0.3 K wrong either way. The span holds the middle 80 % of the times to cross.
//
// `air`: a mean a minute, the last one now, at least 20; `follows`: the wheel now; `below`: how far it rests under the
// air. None where the air does not rise, or too little is known of it. A wheel that is past its limit has an outlook
// of 0 to 0.
std::optional<Outlook> HowLong(std::span<const double> air, const WheelLags& lags, const WheelFollows& follows,
                               double below, double limit);

// The same under air that has come to rest at `air`, half a kelvin either way, as behind a door that stands open. None:
// it never comes to it.
std::optional<Outlook> HowLongAtRest(double air, const WheelLags& lags, const WheelFollows& follows, double below,
                                     double limit);

// The same while nobody hears the air, if nothing cools it from now on: it was last at `air`, and every course that
// lies above that counts alike. None: the limit lies so high that most of them never come to it.
std::optional<Outlook> HowLongUnheard(double air, const WheelLags& lags, const WheelFollows& follows, double limit);

// How warm its core is by then, under those courses: four times in five it lies between the two.
struct CoreSpan {
  double low = 0, high = 0;
};
// None: no course lies above the air.
std::optional<CoreSpan> CoreUnheard(double air, const WheelLags& lags, const WheelFollows& follows, double seconds);

// Where the air itself goes by the same courses: in so many seconds it lies between `low` and `high`, four times in
// five.
struct AirSpan {
  double seconds = 0, low = 0, high = 0;
};
// From now, each half hour, to four hours. `air` as above; empty where too little is known of it.
std::vector<AirSpan> HowFar(std::span<const double> air);

// Farther than this nothing is said.
inline constexpr double kFarthestOutlook = 48 * 3600;
inline constexpr std::size_t kLeastAir = 20, kMostAir = 60;

}  // namespace rindwatch::rules
