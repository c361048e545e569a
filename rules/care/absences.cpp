#include "rules/care/absences.hpp"

#include <algorithm>

namespace rindwatch::rules {

std::vector<Absence> AbsencesOf(std::vector<Date> days) {
  std::ranges::sort(days);
  std::vector<Absence> absences;
  for (const Date day : days) {
    if (!absences.empty() && day <= absences.back().Return()) {
      absences.back().last = day;
    } else {
      absences.push_back({day, day});
    }
  }
  return absences;
}

}  // namespace rindwatch::rules
