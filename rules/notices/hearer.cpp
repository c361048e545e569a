#include "rules/notices/hearer.hpp"

#include <algorithm>

namespace rindwatch::rules {

using std::chrono::days;
using std::chrono::floor;

bool IsAway(const Hearer& hearer, Date day) {
  return std::any_of(hearer.holidays.begin(), hearer.holidays.end(),
                     [day](const Holiday& holiday) { return holiday.from <= day && day < holiday.back; });
}

std::optional<Instant> QuietUntil(const Hearer& hearer, const Zone& zone, Instant at) {
  if (!hearer.quiet || hearer.quiet->from == hearer.quiet->to) return std::nullopt;
  const auto [from, to] = *hearer.quiet;
  const LocalTime now = zone.ToLocal(at);
  const Date day = floor<days>(now);
  const Millis time = now - LocalTime{day};
  const bool over_midnight = to < from;
  const bool quiet = over_midnight ? time >= from || time < to : time >= from && time < to;
  if (!quiet) return std::nullopt;
  const Date ends_on = over_midnight && time >= from ? day + days{1} : day;
  const Instant end = zone.FirstInstantAtOrAfter(LocalTime{ends_on} + to);
  // Where the clock on the wall was set back, the end may lie behind although the wall shows less.
  return std::max(end, at + Millis{1});
}

}  // namespace rindwatch::rules
