#include "rules/care/cadence.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

// ceil(7k/N), the day of the k-th of N evenly spread doings a week.
int DayOfNth(int k, int times) { return (7 * k + times - 1) / times; }

// The interval is days / times, compared without dividing.
int ToleranceByInterval(int days, int times) {
  if (days < 2 * times) return 0;
  if (days < 5 * times) return 1;
  return days <= 10 * times ? 2 : 4;
}

}  // namespace

int GapOf(const Cadence& cadence, int k) {
  if (const auto* weekly = std::get_if<TimesAWeek>(&cadence)) {
    const int times = std::max(1, weekly->times);  // a plan with less is refused by its reader
    return DayOfNth(k, times) - DayOfNth(k - 1, times);
  }
  const auto* every = std::get_if<EveryDays>(&cadence);
  return every ? every->days : 0;
}

int ToleranceOf(const Care& care) {
  if (care.tolerance) return *care.tolerance;
  if (const auto* every = std::get_if<EveryDays>(&care.cadence)) return ToleranceByInterval(every->days, 1);
  if (const auto* weekly = std::get_if<TimesAWeek>(&care.cadence)) return ToleranceByInterval(7, weekly->times);
  return std::holds_alternative<OnceOnDay>(care.cadence) ? 2 : 0;
}

bool CountsDays(const Cadence& cadence) {
  return std::holds_alternative<EveryDays>(cadence) || std::holds_alternative<TimesAWeek>(cadence);
}

}  // namespace rindwatch::rules
