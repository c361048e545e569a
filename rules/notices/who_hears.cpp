#include "rules/notices/who_hears.hpp"

namespace rindwatch::rules {

std::vector<const Hearer*> WhoHears(std::span<const Hearer> hearers, Severity severity, Date day, AllAway all_away) {
  std::vector<const Hearer*> there, all;
  for (const Hearer& hearer : hearers) {
    if (hearer.least > severity) continue;
    all.push_back(&hearer);
    if (!IsAway(hearer, day)) there.push_back(&hearer);
  }
  return there.empty() && all_away == AllAway::kEach ? all : there;
}

}  // namespace rindwatch::rules
