// The stages of a wheel on the calendar: which plan, part, road and stage are in force on which day.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <vector>

#include "rules/care/known.hpp"

namespace rindwatch::rules {

// Far beyond any wheel, and near enough to zero that adding days to them stays a date.
inline constexpr Date kLongAgo{std::chrono::days{-4'000'000}};
inline constexpr Date kForEver{std::chrono::days{4'000'000}};

// The stages of a part along one road, in the order of their days. Lives no longer than the plan.
class Road {
 public:
  Road(const Part& part, const BranchOption* option) : shared_(part.stages), own_(option ? &option->stages : nullptr) {}
  std::size_t Size() const { return shared_.size() + (own_ ? own_->size() : 0); }
  const Stage& operator[](std::size_t i) const { return i < shared_.size() ? shared_[i] : (*own_)[i - shared_.size()]; }
  const Stage& Front() const { return (*this)[0]; }
  const Stage& Back() const { return (*this)[Size() - 1]; }

 private:
  const std::vector<Stage>& shared_;
  const std::vector<Stage>* own_;
};

// A stretch of days on which one part of one plan is in force along one road.
struct Span {
  Date first, last;  // both ends in the span
  const PlanFrom* given = nullptr;
  std::size_t part = 0;
  const StartEvent* start = nullptr;     // its day is day 0 of the part
  const BranchOption* option = nullptr;  // the road followed; null: the part has no branch
  bool answered = false;                 // the road was chosen by the keeper, not by default

  const Part& ThePart() const { return given->plan->parts[part]; }
  Road TheRoad() const { return {ThePart(), option}; }
  int DayOfPart(Date day) const { return static_cast<int>((day - start->day).count()); }
};

// A stretch of days on which one stage is in force. Stages that a keeper's answer or a new plan cuts off end there.
struct Segment {
  Date first, last;  // both ends in the segment; kForEver: without an end
  const Stage* stage = nullptr;
  Date part_start;
  bool adjoins = false;  // nothing but days 0 lies between the segment before and this one
};

// Points into the history; lives no longer.
class Timeline {
 public:
  Timeline(const Known& known, const DayTurn& turn);

  const std::vector<Segment>& Segments() const { return segments_; }
  // Null on days on which no part has begun.
  const Span* SpanOn(Date day) const;
  const PlanFrom* PlanOn(Date day) const;
  // The index of the segment that holds the day, or the first one after it; Segments().size() if none follows.
  std::size_t IndexAtOrAfter(Date day) const;
  // Day 0 of a part whose first stage is written from day 1: a wheel that was just handled is left alone.
  bool IsDayZero(Date day) const;
  // Of the plan that was given last, as the keeper named it or as the first doing of its care began it; null: not yet.
  const StartEvent* StartOfPart(std::size_t part) const { return part < starts_.size() ? starts_[part] : nullptr; }
  // The stage whose cares an act of the day can be: on a day 0 the stage before, at the first part its first stage.
  const Segment* StageOfActs(Date day) const;

 private:
  // Of each part, as the keeper named it or as the first doing of its care began it; null: not yet.
  std::vector<const StartEvent*> StartsOf(const Known& known, const std::vector<Part>& parts, const DayTurn& turn);
  void AddPlan(const Known& known, const PlanFrom& given, Date first, Date last, const DayTurn& turn);
  void AddRoads(const Known& known, Span part, const DayTurn& turn);
  void AddSegments(const Span& span);

  struct Rule {
    Date first;
    const PlanFrom* given;
  };
  std::vector<std::unique_ptr<const StartEvent>> begun_;  // that no keeper named: a care was done
  std::vector<const StartEvent*> starts_;                 // of the parts of the plan that was given last
  std::vector<Rule> plans_;
  std::vector<Span> spans_;
  std::vector<Segment> segments_;
  std::vector<Date> days_zero_;
};

}  // namespace rindwatch::rules
