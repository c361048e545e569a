// Who of the keepers hears of what has a severity, on a day.
#pragma once

#include <span>
#include <vector>

#include "rules/notices/hearer.hpp"

namespace rindwatch::rules {

// What becomes of it where all who would hear are away.
enum class AllAway {
  kNobody,  // it waits until one of them is back
  kEach,    // it is said to each of them all the same
};

// In their order. What points into `hearers` lives as long as they do.
std::vector<const Hearer*> WhoHears(std::span<const Hearer> hearers, Severity severity, Date day, AllAway all_away);

}  // namespace rindwatch::rules
