// A wheel's life as the model knows it: what is known, its days one by one, and what was done on each.
#pragma once

#include "rules/care/history.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch::rules::testing {

struct ModelDay {
  Date date;
  Instant begins, ends;
  const PlanFrom* given = nullptr;  // the plan that rules
  int part = -1;                    // none has begun
  Date part_start;
  const Stage* stage = nullptr;  // null: none has begun, or a day 0 that no stage holds
  bool day_zero = false;         // such a day 0
  std::string option;            // the road that is followed; empty: the part has no branch
  bool answered = false;         // by the keeper
  bool away = false;
  bool returns = false;  // the first day not marked as away
};

// One kind of one act, done or skipped.
struct ModelDeed {
  ActId id;
  Instant at;
  Date day;
  CareKind kind;
  bool skip = false;
  bool repeat = false;    // a doing that moves nothing
  bool replaces = false;  // of morning and evening: a doing that takes the place of the skip before it
};

// A care agreed at a fault, with what settled it.
struct ModelAgreed {
  AgreedCare asked;
  std::optional<ModelDeed> settled;
};

// What is known at an instant, laid out on days from long before the first one to long after the asked one.
class ModelLife {
 public:
  ModelLife(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked);

  Date DayOf(Instant at) const;
  const ModelDay& On(Date date) const { return dates[static_cast<std::size_t>((date - dates.front().date).count())]; }
  bool IsDayZero(Date date) const { return On(date).day_zero; }
  bool IsAnswered(StartKind kind) const;
  // The next day that is not a day 0.
  Date PastDayZero(Date date) const;
  // The care of the same kinds and cadence on that day; null: none.
  const Care* SameCareOn(Date date, const Care& care) const;
  // The first and last day of the stages through which the care of that day runs; Date::max(): without an end.
  Date RunBegins(Date date, const Care& care) const;
  // From it on acts count in the cadence of the run that begins on that day: a day 0 with no stage before it is with
  // it.
  Date ActsBegin(Date first) const;
  Date RunEnds(Date date, const Care& care) const;
  // Before it nothing is late that was due on the day of entry.
  Date EndOf(Date counted, int tolerance) const;

  Instant asked;
  Date today, entry;
  std::vector<ModelDay> dates;
  std::vector<ModelDeed> deeds;     // in the order in which they count, with what a doing brings
  std::vector<ModelAgreed> agreed;  // in the order of their days
  std::set<unsigned> care_days;

  // The stage whose cares an act of the day can be.
  const Stage* StageOfActs(Date date) const;

 private:
  Instant BeginningOf(Date date) const;
  void LayOutDays();
  void FindStage(ModelDay& day) const;
  void ListDeeds();
  KindSet BroughtOn(Date day, KindSet done) const;
  void SettleAgreed();
  void SortDeeds();
  void MarkRepeats();

  const CareCalendar& calendar_;
  std::vector<PlanFrom> plans_;
  std::vector<StartEvent> starts_;
  std::vector<BranchAnswer> answers_;
  std::vector<CareAct> acts_;
};

// The stages of a part along one road, in the order of their days.
std::vector<const Stage*> RoadOf(const Part& part, const std::string& option);

}  // namespace rindwatch::rules::testing
