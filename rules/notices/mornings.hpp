// Which lists of the day's work are due to whom.
#pragma once

#include <set>
#include <span>
#include <string>
#include <vector>

#include "rules/notices/hearer.hpp"

namespace rindwatch::rules {

// Stored by their text.
enum class ListHabit { kWork, kDaily, kNever };  // on days with work and on Sundays; each day; never
std::string_view ToText(ListHabit habit);        // "work"
std::optional<ListHabit> ListHabitFrom(std::string_view text);

struct ListReader {
  Hearer hearer;
  ListHabit habit = ListHabit::kWork;
  std::chrono::minutes morning{6 * 60 + 30};
  std::optional<std::chrono::minutes> evening{std::chrono::minutes{18 * 60}};  // none: no second list
  Instant since{};  // when this was chosen: earlier hours of that day are gone by
};

struct DayOfWork {
  Date day;
  bool work = false;  // something is due, late or asked, or an alarm waits for a hand
  // A wheel is handled a second time today, or came after the morning's list, and something of it is still to do.
  bool evening = false;
};

struct ListSent {
  std::string reader;
  Date day;
  bool evening = false;
  auto operator<=>(const ListSent&) const = default;
};

struct DueLists {
  std::vector<ListSent> now;
  std::vector<ListSent> passed;  // not wanted at their hour: work that comes later makes no morning
  std::optional<Instant> next;
};

// `sent` holds what was sent and what was passed over. A list whose hour passed while nobody watched is due late, until
// its day ends. It counts by day, so that a clock set back by an hour sends nothing again.
DueLists ListsDue(std::span<const ListReader> readers, const DayOfWork& work, const std::set<ListSent>& sent,
                  const DayTurn& turn, Instant now);

}  // namespace rindwatch::rules
