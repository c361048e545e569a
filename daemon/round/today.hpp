// Today's round, kept up to date: what an act does not touch is not worked out again. Owned by the watch; the loop's
// thread.
#pragma once

#include <boost/container/flat_map.hpp>
#include <boost/container/flat_set.hpp>
#include <map>
#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/round/outlook.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

class Today {
 public:
  // The book outlives it.
  explicit Today(const Book& book) : book_(book) {}

  // The book has just taken this in.
  void Saw(const JournalLine& line, const Fact& fact);
  // As things stand at `now`. What it returns is good until the next call or fact.
  const DayRound& Round(rules::Instant now, const rules::Pace& pace);
  // Of the same instant; made when it is asked for.
  const Outlook& TheOutlook();
  std::vector<rules::ComingDay> ComingDays(int day_count);

 private:
  struct Group {
    rules::GroupId id = 0;
    WheelGroup lying;
    rules::Instant good_until;  // of its schedule
    bool changed = false;       // stands among `changed_`
  };
  using Groups = std::map<Together, Group>;

  bool MustBeginAnew(rules::Instant now, const rules::Pace& pace) const;
  void BeginAnew(rules::Instant now, const rules::Pace& pace);
  void GatherAll();
  void Lift(rules::WheelId id);
  // False: it lies on a board that was not there.
  bool Lay(rules::WheelId id);
  void Change(Groups::iterator at);
  // Of the groups whose schedules hold no longer.
  void ChangeEnded(rules::Instant now);
  void Settle(rules::Instant now);
  // By the schedule of a group of the same life and calendar, if `like` is one.
  void Schedule(Group& group, const Group* like, rules::Instant now);
  WheelGroups Scheduled() const;

  const Book& book_;
  bool anew_ = true;          // something changed that may touch every wheel
  std::uint64_t boards_ = 0;  // the version of the book's boards
  boost::container::flat_set<rules::WheelId> touched_;
  std::optional<Ways> ways_;
  Groups groups_;
  boost::container::flat_map<rules::WheelId, Groups::iterator> where_;  // groups_.end(): nowhere
  std::vector<Groups::iterator> changed_;                               // each once
  rules::Instant next_end_;                                             // no schedule ends before
  std::optional<rules::RoundMaker> maker_;
  rules::GroupId last_id_ = 0;
  DayRound round_;
  std::optional<Outlook> outlook_;
  LivesAhead ahead_;
};

}  // namespace rindwatch
