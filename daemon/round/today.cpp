#include "daemon/round/today.hpp"

#include <algorithm>
#include <utility>

namespace rindwatch {

using rules::Instant;
using rules::WheelId;

void Today::Saw(const JournalLine& line, const Fact& fact) {
  if (anew_) return;
  if (fact.subject_kind == "wheel" && fact.what == "care") {
    touched_.insert(fact.subject);
  } else if (fact.subject_kind == "act") {
    // What was said of wheels and is undone touches them; where they then lie elsewhere, the boards tell.
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
  if (!anew_ && touched_.empty() && !later && now < next_end_) return round_;
  if (MustBeginAnew(now, pace)) {
    BeginAnew(now, pace);
  } else {
    for (const WheelId id : touched_) Lift(id);
    const bool laid = std::ranges::all_of(touched_, [this](WheelId id) { return Lay(id); });
    if (!laid) BeginAnew(now, pace);
  }
  touched_.clear();
  round_.asked = now;
  if (next_end_ <= now) ChangeEnded(now);
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

bool Today::MustBeginAnew(Instant now, const rules::Pace& pace) const {
  return anew_ || !maker_ || boards_ != book_.BoardsVersion() || now < round_.asked ||
         round_.work.day != book_.Home().DayOf(now) || book_.IsByRoom() != round_.habits.by_room ||
         !(pace == round_.habits.pace);
}

void Today::BeginAnew(Instant now, const rules::Pace& pace) {
  anew_ = false;
  boards_ = book_.BoardsVersion();
  next_end_ = Instant::max();
  round_.habits = HabitsOf(book_, pace);
  round_.work = {};
  round_.work.day = book_.Home().DayOf(now);
  maker_.emplace(round_.work.day, round_.habits);
  outlook_.reset();
  GatherAll();
}

void Today::GatherAll() {
  where_.clear();
  changed_.clear();
  groups_.clear();
  // Wheels of a lot mostly came together, and still lie together.
  auto last = groups_.end();
  book_.ForEachWheel([&](const WheelRow& wheel) {
    auto lying = LyingNow(book_, wheel);
    if (!lying) return;
    if (last == groups_.end() || last->first != lying->where) last = groups_.try_emplace(last, std::move(lying->where));
    last->second.lying.group.wheels.push_back(lying->wheel);
    where_.emplace_hint(where_.end(), wheel.id, last);
  });
  ways_.emplace(book_);
  for (const auto& [where, group] : groups_) ways_->See(where);
  ways_->Settle();
  for (auto at = groups_.begin(); at != groups_.end(); ++at) {
    at->second.id = ++last_id_;
    Change(at);
  }
}

void Today::Lift(WheelId id) {
  const auto found = where_.find(id);
  if (found == where_.end() || found->second == groups_.end()) return;
  const auto at = std::exchange(found->second, groups_.end());
  std::erase_if(at->second.lying.group.wheels, [id](const rules::RoundWheel& wheel) { return wheel.id == id; });
  Change(at);
}

bool Today::Lay(WheelId id) {
  const WheelRow* wheel = book_.Wheel(id);
  auto lying = wheel ? LyingNow(book_, *wheel) : std::nullopt;
  if (!lying) return true;
  if (!ways_->Knows(lying->where)) return false;
  const auto [at, is_new] = groups_.try_emplace(std::move(lying->where));
  if (is_new) at->second.id = ++last_id_;
  at->second.lying.group.wheels.push_back(lying->wheel);
  Change(at);
  where_[id] = at;
  return true;
}

void Today::Change(Groups::iterator at) {
  if (!std::exchange(at->second.changed, true)) changed_.push_back(at);
}

void Today::ChangeEnded(Instant now) {
  next_end_ = Instant::max();
  for (auto at = groups_.begin(); at != groups_.end(); ++at) {
    if (at->second.good_until <= now) {
      Change(at);
    } else {
      next_end_ = std::min(next_end_, at->second.good_until);
    }
  }
}

void Today::Settle(Instant now) {
  // Groups of one life and cave come to stand beside each other.
  std::ranges::sort(changed_, {}, [](Groups::iterator at) -> const Together& { return at->first; });
  const Group* last = nullptr;
  for (const Groups::iterator at : std::exchange(changed_, {})) {
    Group& group = at->second;
    group.changed = false;
    if (group.lying.group.wheels.empty()) {
      maker_->Drop(group.id);
      groups_.erase(at);
      continue;
    }
    group.lying = GroupOf(book_, *ways_, at->first, std::move(group.lying.group.wheels), round_.Day());
    Schedule(group, std::exchange(last, &group), now);
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

void Today::Schedule(Group& group, const Group* like, Instant now) {
  auto& schedule = group.lying.group.schedule;
  if (like && like->lying.history == group.lying.history && like->lying.calendar == group.lying.calendar) {
    schedule = like->lying.group.schedule;
  } else {
    schedule =
        std::make_shared<const rules::Schedule>(rules::ScheduleAt(*group.lying.history, *group.lying.calendar, now));
  }
  group.good_until = schedule->holds_until;
  next_end_ = std::min(next_end_, group.good_until);
}

WheelGroups Today::Scheduled() const {
  WheelGroups groups;
  for (const auto& [where, group] : groups_) {
    if (group.lying.group.schedule && group.lying.group.schedule->standing.plan) groups.push_back(&group.lying);
  }
  return groups;
}

}  // namespace rindwatch
