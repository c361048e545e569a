// From the book to what the rules of the round ask for: which wheels lie together, alike in everything that counts.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/round/group.hpp"

namespace rindwatch {

struct WheelGroup {
  const rules::WheelHistory* history = nullptr;   // of the life they share; the book's
  const rules::CareCalendar* calendar = nullptr;  // of their cave; the gathering's
  rules::RoundGroup group;                        // without a schedule until one was made
};

// How the wheels lie. Good until the book takes in another fact.
struct WheelsLying {
  std::map<rules::CaveId, rules::CareCalendar> calendars;  // 0: of what lies nowhere of ours
  std::vector<WheelGroup> groups;
};

// As it was at `at`, as far as the book knows now. Wheels that had not come, or were gone, are not in it.
WheelsLying GatherAt(const Book& book, rules::Instant at);

// Gives every group the schedule of its life, made once a life and calendar.
void ScheduleAll(WheelsLying& gathering, rules::Instant asked);

}  // namespace rindwatch
