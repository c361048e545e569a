// The air where a wheel lay against what it wanted there and then: for its page. The loop's thread.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/api/ribbon.hpp"

namespace rindwatch {

inline constexpr rules::Millis kAirHour = std::chrono::hours{1};

// What is tolerated around a wheel from an instant on: by its stage, or by the band that a keeper gave it.
struct BandFrom {
  rules::Instant from;
  std::optional<rules::Figure> temperature;
};
// Oldest first, up to `until`; one that stays the same is not said again.
std::vector<BandFrom> BandsOf(const Book& book, const WheelRow& wheel, rules::Instant until);

// The band of temperature in force around it at an instant; none: nothing is asked then, or it lay where finished
// cheese is kept, which is cold by intent.
std::optional<rules::Figure> BandAt(const Book& book, const WheelRow& wheel, rules::Instant at);

// Its air is out of its band, and has been for long.
struct OutOfItsBand {
  rules::Instant since;  // the band of now was not kept since then
  int side = 0;          // 1 warmer, -1 colder
  rules::Figure band;
  double mean = 0;
};
// None: it is inside, unknown, or beyond for so short a time that only an alarm tells of it; and where finished cheese
// is kept, which is cold by intent. `hours`: what was believed, by time.
std::optional<OutOfItsBand> OutsideNow(const ApiContext& context, const WheelRow& wheel,
                                       const std::vector<BandFrom>& bands, const std::vector<Bucket>& hours);
// Pure: since when all that was said was beyond the band on that side, but not before the band began; none: the last
// that was said lies inside.
std::optional<rules::Instant> BeyondSince(const BandFrom& band, int side, const std::vector<Bucket>& hours);

// {from, to} each: no reading, or none that is believed, between the first and `until`.
boost::json::array UnknownAir(const std::vector<Bucket>& hours, rules::Instant until);

}  // namespace rindwatch
