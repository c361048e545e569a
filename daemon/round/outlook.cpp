#include "daemon/round/outlook.hpp"

#include <algorithm>

#include "daemon/round/quiet.hpp"

namespace rindwatch {

using rules::Ahead;
using rules::Date;
using rules::Instant;

namespace {

constexpr int kWeek = 7;
constexpr int kMonth = 31;
// Today may be the first day with work; the one after it is what is asked for.
constexpr std::size_t kDaysToSee = 2;

std::vector<rules::ComingDay> ComingIn(const WheelGroups& groups, const rules::RoundHabits& habits, Date today,
                                       const std::vector<std::vector<Ahead>>& ahead) {
  std::vector<rules::GroupAhead> lives;
  for (std::size_t i = 0; i < groups.size(); ++i) lives.push_back({&groups[i]->group, &ahead[i]});
  return rules::ComingDays(lives, habits, today);
}

// The days of the next week; if it holds no work, the first day of the month that does.
std::vector<rules::ComingDay> Coming(const WheelGroups& groups, const rules::RoundHabits& habits, Date today,
                                     Instant now, LivesAhead& ahead) {
  auto coming = ComingDaysOf(groups, habits, today, now, kWeek + 1, ahead);
  if (!coming.empty()) return coming;
  std::vector<std::vector<Ahead>> lives;
  for (const WheelGroup* group : groups)
    lives.push_back(rules::LookAhead(*group->history, *group->calendar, now, kMonth, kDaysToSee));
  coming = ComingIn(groups, habits, today, lives);
  if (coming.size() > 1) coming.resize(1);
  return coming;
}

}  // namespace

int Outlook::MinutesOn(Date day) const {
  const auto found = std::ranges::find(coming, day, &rules::ComingDay::day);
  return found == coming.end() ? 0 : found->minutes;
}

const std::vector<Ahead>& LivesAhead::Of(const WheelGroup& group, Instant now, int day_count, std::size_t at_most) {
  Seen& seen = seen_[group.group.schedule.get()];
  if (seen.day_count < day_count) {
    seen = {group.group.schedule, day_count,
            rules::LookAhead(*group.history, *group.calendar, now, day_count, at_most)};
  }
  return seen.ahead;
}

void LivesAhead::Prune() {
  std::erase_if(seen_, [](const auto& entry) { return entry.second.schedule.use_count() == 1; });
}

std::vector<rules::ComingDay> ComingDaysOf(const WheelGroups& groups, const rules::RoundHabits& habits, Date today,
                                           Instant now, int day_count, LivesAhead& ahead) {
  std::vector<rules::GroupAhead> lives;
  lives.reserve(groups.size());
  for (const WheelGroup* group : groups) lives.push_back({&group->group, &ahead.Of(*group, now, day_count)});
  auto coming = rules::ComingDays(lives, habits, today);
  std::erase_if(coming, [&](const rules::ComingDay& day) { return day.day >= today + std::chrono::days{day_count}; });
  return coming;
}

Outlook OutlookOf(const Book& book, const WheelGroups& groups, const rules::Round& work,
                  const rules::RoundHabits& habits, Instant now, LivesAhead& ahead) {
  std::vector<const rules::RoundGroup*> lying;
  lying.reserve(groups.size());
  for (const WheelGroup* group : groups) lying.push_back(&group->group);
  Outlook outlook;
  outlook.open = rules::OpenLines(lying);
  outlook.later = rules::LaterLines(lying, work.day);
  outlook.coming = Coming(groups, habits, work.day, now, ahead);
  outlook.quiet_since = QuietSince(book, work);
  return outlook;
}

}  // namespace rindwatch
