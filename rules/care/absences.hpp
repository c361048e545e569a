// Away days as stretches with a day of return.
#pragma once

#include <vector>

#include "rules/time.hpp"

namespace rindwatch::rules {

struct Absence {
  Date first, last;  // both marked
  Date Return() const { return last + std::chrono::days{1}; }
  bool Holds(Date day) const { return first <= day && day <= last; }
};

// Ascending and apart by at least one day. The days may come in any order and more than once.
std::vector<Absence> AbsencesOf(std::vector<Date> days);

}  // namespace rindwatch::rules
