// What stands beside a round: what may be done early, what comes later and in the next days, days without a line.
#pragma once

#include <optional>
#include <unordered_map>
#include <vector>

#include "daemon/round/groups.hpp"
#include "rules/care/schedule.hpp"
#include "rules/round/coming.hpp"
#include "rules/round/early.hpp"
#include "rules/round/round.hpp"

namespace rindwatch {

struct Outlook {
  std::vector<rules::EarlyLine> open;      // may be done early
  std::vector<rules::EarlyLine> later;     // asked a second time, from an hour on
  std::vector<rules::ComingDay> coming;    // the days of the next week, or the first with work after it
  std::optional<rules::Date> quiet_since;  // the first day without a line, if some went by

  // What the day has on it, as far as is known.
  int MinutesOn(rules::Date day) const;
};

// What a perfect keeper will do of the lives in hand. Remembers by schedule: one that was made anew is looked at anew.
class LivesAhead {
 public:
  const std::vector<rules::Ahead>& Of(const WheelGroup& group, rules::Instant now, int day_count,
                                      std::size_t at_most = static_cast<std::size_t>(-1));
  // Forgets schedules that nobody else holds any more.
  void Prune();

 private:
  struct Seen {
    std::shared_ptr<const rules::Schedule> schedule;
    int day_count = 0;
    std::vector<rules::Ahead> ahead;
  };
  std::unordered_map<const rules::Schedule*, Seen> seen_;
};

using WheelGroups = std::vector<const WheelGroup*>;  // with schedules

Outlook OutlookOf(const Book& book, const WheelGroups& groups, const rules::Round& work,
                  const rules::RoundHabits& habits, rules::Instant now, LivesAhead& ahead);
// The days with work after `today`, for so many days from `now` on, as a perfect keeper will find them.
std::vector<rules::ComingDay> ComingDaysOf(const WheelGroups& groups, const rules::RoundHabits& habits,
                                           rules::Date today, rules::Instant now, int day_count, LivesAhead& ahead);

}  // namespace rindwatch
