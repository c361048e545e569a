#include "daemon/round/today.hpp"

#include <algorithm>

namespace rindwatch {

using rules::Instant;
using rules::WheelId;

void Today::Saw(const JournalLine& line, const Fact& fact) {
  if (anew_) return;
  if (fact.subject_kind == "wheel" && fact.what == "care") {
    touched_.insert(fact.subject);
  } else if (fact.subject_kind == "act") {
    // An undone care touches its wheels; anything else may have moved or renumbered others.
    const std::vector<WheelId> wheels = book_.WheelsOf(line.id);
    touched_.insert(wheels.begin(), wheels.end());
    anew_ |= wheels.empty();
  } else if (fact.subject_kind != "alarm" && fact.subject_kind != "probe") {
    anew_ = true;
  }
}

const DayRound& Today::Round(Instant now, const rules::Pace& pace) {
  using std::chrono::minutes;
  const bool later = std::chrono::floor<minutes>(now) != std::chrono::floor<minutes>(round_.asked);
  if (!anew_ && touched_.empty() && !later) return round_;
  rules::RoundHabits habits = HabitsOf(book_, pace);
  if (MustBeginAnew(now, habits)) {
    round_.habits = std::move(habits);
    BeginAnew(now);
  } else {
    for (const WheelId id : touched_) Lift(id);
    const bool laid = std::ranges::all_of(touched_, [this](WheelId id) { return Lay(id); });
    if (!laid) BeginAnew(now);
  }
  touched_.clear();
  round_.asked = now;
  for (auto& [where, group] : groups_) {
    if (later && group.good_until <= now) changed_.insert(where);
  }
  if (!changed_.empty()) Settle(now);
  return round_;
}

const Outlook& Today::TheOutlook() {
  if (!outlook_) outlook_ = OutlookOf(book_, Scheduled(), round_.work, round_.habits, round_.asked, ahead_);
  return *outlook_;
}

std::vector<rules::ComingDay> Today::ComingDays(int day_count) {
  LivesAhead far;  // too much to remember
  return ComingDaysOf(Scheduled(), round_.habits, round_.Day(), round_.asked, day_count, far);
}

bool Today::MustBeginAnew(Instant now, const rules::RoundHabits& habits) const {
  return anew_ || !maker_ || now < round_.asked || round_.work.day != book_.Home().DayOf(now) ||
         habits.by_room != round_.habits.by_room || !(habits.pace == round_.habits.pace);
}

void Today::BeginAnew(Instant now) {
  anew_ = false;
  groups_.clear();
  where_.clear();
  changed_.clear();
  ways_.emplace(book_);
  std::map<Together, std::vector<rules::RoundWheel>> together;
  for (const WheelRow* wheel : book_.Wheels()) {
    if (auto lying = LyingNow(book_, *wheel)) together[std::move(lying->where)].push_back(lying->wheel);
  }
  for (const auto& [where, wheels] : together) ways_->See(where);
  ways_->Settle();
  for (auto& [where, wheels] : together) {
    const auto at = groups_.try_emplace(where).first;
    at->second.id = ++last_id_;
    for (const rules::RoundWheel& wheel : wheels) where_.emplace(wheel.id, at);
    at->second.lying = GroupOf(book_, *ways_, where, std::move(wheels), book_.Home().DayOf(now));
    changed_.insert(where);
  }
  round_.work = {};
  round_.work.day = book_.Home().DayOf(now);
  maker_.emplace(round_.work.day, round_.habits);
  outlook_.reset();
}

void Today::Lift(WheelId id) {
  const auto found = where_.find(id);
  if (found == where_.end()) return;
  const Groups::iterator at = found->second;
  std::erase_if(at->second.lying.group.wheels, [id](const rules::RoundWheel& wheel) { return wheel.id == id; });
  changed_.insert(at->first);
  where_.erase(found);
}

bool Today::Lay(WheelId id) {
  const WheelRow* wheel = book_.Wheel(id);
  const auto lying = wheel ? LyingNow(book_, *wheel) : std::nullopt;
  if (!lying) return true;
  if (!ways_->Knows(lying->where)) return false;
  const auto [at, is_new] = groups_.try_emplace(lying->where);
  Group& group = at->second;
  if (is_new) group.id = ++last_id_;
  std::vector<rules::RoundWheel> wheels = std::move(group.lying.group.wheels);
  wheels.push_back(lying->wheel);
  group.lying = GroupOf(book_, *ways_, lying->where, std::move(wheels), round_.Day());
  where_.emplace(id, at);
  changed_.insert(lying->where);
  return true;
}

void Today::Schedule(Group& group, Instant now) {
  group.lying.group.schedule =
      std::make_shared<const rules::Schedule>(rules::ScheduleAt(*group.lying.history, *group.lying.calendar, now));
  group.good_until = group.lying.group.schedule->holds_until;
}

void Today::Settle(Instant now) {
  // Groups of one life and calendar share a schedule.
  std::map<std::pair<const rules::WheelHistory*, const rules::CareCalendar*>, const Group*> made;
  for (const Together& where : std::exchange(changed_, {})) {
    const auto at = groups_.find(where);
    Group& group = at->second;
    if (group.lying.group.wheels.empty()) {
      maker_->Drop(group.id);
      groups_.erase(at);
      continue;
    }
    const Group*& like = made[{group.lying.history, group.lying.calendar}];
    if (like) {
      group.lying.group.schedule = like->lying.group.schedule;
      group.good_until = like->good_until;
    } else {
      Schedule(group, now);
      like = &group;
    }
    // A wheel that no plan held yet has nothing to ask.
    if (group.lying.group.schedule->standing.plan) {
      maker_->Put(group.id, group.lying.group);
    } else {
      maker_->Drop(group.id);
    }
  }
  round_.work = maker_->Make();
  outlook_.reset();
  ahead_.Prune();
}

WheelGroups Today::Scheduled() const {
  WheelGroups groups;
  for (const auto& [where, group] : groups_) {
    if (group.lying.group.schedule && group.lying.group.schedule->standing.plan) groups.push_back(&group.lying);
  }
  return groups;
}

}  // namespace rindwatch
