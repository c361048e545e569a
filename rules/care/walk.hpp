// A walk through the days of one wheel: what a schedule tells at each instant, with what is done on the way, without
// counting a life anew at every step.
#pragma once

#include <deque>
#include <optional>
#include <vector>

#include "rules/care/items.hpp"

namespace rindwatch::rules {

// Points into the history and the calendar, and lives no longer. Instants ascend.
class Walk {
 public:
  // As far as is known at an instant; walks on from any.
  Walk(const WheelHistory& wheel, const CareCalendar& calendar, Instant known_at);

  void GoTo(Instant at);
  Date Today() const { return ground_.today; }
  const Ground& TheGround() const { return ground_; }

  bool AsksAnything() const;
  // Those of the schedule at this instant, but for what is named once or was not done.
  std::vector<CareLine> Lines() const;
  std::vector<Question> Questions() const;
  // A doing or skip of the kind is known between this instant and another.
  bool IsSettledUntil(CareKind kind, Instant until) const;
  // Where nothing is done or answered, nothing comes on the round and no question is asked before this instant.
  Instant NextChange() const;

  // ---- now ----
  // A part that begins with a care begins with its first doing.
  void Do(KindSet kinds);
  // A start with yes, on this day; a branch by the road that is followed.
  void Answer(const Question& question);

 private:
  void Look();
  bool MayBegin(KindSet kinds) const;
  void Recount();
  bool IsGone() const;

  Ground ground_;
  std::optional<Instant> gone_;
  std::deque<CareAct> acts_;
  std::deque<StartEvent> starts_;
  std::deque<BranchAnswer> answers_;
  std::optional<StageCount> stage_;
  std::size_t index_ = 0;    // of the segment that `stage_` counts
  std::vector<Item> items_;  // at this instant
};

}  // namespace rindwatch::rules
