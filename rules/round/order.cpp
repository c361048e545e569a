#include "rules/round/order.hpp"

#include <compare>
#include <functional>
#include <tuple>

namespace rindwatch::rules {

namespace {

// Mite dust is carried by the air too: it comes after everything.
int MarkRank(const RoundGroup& group) {
  if (!IsMarked(group)) return 0;
  if (!group.mark) return 1;
  switch (*group.mark) {
    case FaultKind::kSlime:
      return 3;
    case FaultKind::kBlueSpot:
      return 4;
    case FaultKind::kMiteDust:
      return 5;
    default:
      return 2;
  }
}

// The care's place among the cares of the stage; what the stage does not have comes after.
std::ptrdiff_t PlaceInPlan(const Schedule& schedule, const CareLine& care) {
  constexpr std::ptrdiff_t kAfterAll = 1000;
  const Stage* stage = schedule.standing.stage;
  if (!stage || !care.care || stage->cares.empty()) return kAfterAll;
  const std::less<> before;
  const Care* first = stage->cares.data();
  const Care* last = first + stage->cares.size() - 1;
  if (before(care.care, first) || before(last, care.care)) return kAfterAll;
  return care.care - first;
}

auto StandingKey(const Standing& standing) {
  const Stage* stage = standing.stage;
  return std::tuple(std::string_view{standing.plan->id}, standing.plan->version, standing.part, standing.day,
                    stage ? stage->first_day : -1, stage ? std::string_view{stage->name} : std::string_view{},
                    standing.past_plan);
}

// Of what is due now, or settled, nobody asks since when it could be done: wheels that were handled a day apart stand
// together.
bool TellsItsDay(const CareLine& care) {
  return care.state != CareState::kDue && care.state != CareState::kDone && care.state != CareState::kSkipped;
}

auto CareKey(const CareLine& care) {
  const bool tells = TellsItsDay(care);
  const auto days = std::tuple(tells ? care.due : Date{}, tells ? care.window_end : Date{});
  return std::tuple_cat(std::tie(care.state), days,
                        std::tie(care.evening, care.away, care.agreed, care.kinds, care.done_kinds, care.skipped_kinds,
                                 care.settled_by, care.reason, care.not_before));
}

}  // namespace

WayPoint WayPointOf(const RoundGroup& group, bool by_room) {
  const Standing& standing = group.schedule->standing;
  WayPoint walk;
  walk.mark = MarkRank(group);
  walk.room = by_room ? group.place.room : 0;
  walk.rind = static_cast<int>(standing.plan->rind);
  walk.cave = group.place.cave_order;
  walk.cave_id = group.place.cave;
  walk.age_group = AgeGroupOf(standing.plan->rind, standing.age);
  walk.shelf = group.place.shelf_order;
  walk.shelf_name = group.place.shelf;
  walk.age = standing.age;
  walk.lot = group.lot;
  return walk;
}

bool LineKey::operator<(const LineKey& other) const {
  if (const auto order = walk <=> other.walk; std::is_neq(order)) return std::is_lt(order);
  if (care == other.care) return false;
  const auto mine = PlaceInPlan(*schedule, *care), theirs = PlaceInPlan(*other.schedule, *other.care);
  if (mine != theirs) return mine < theirs;
  const auto standing = StandingKey(schedule->standing), others = StandingKey(other.schedule->standing);
  if (standing != others) return standing < others;
  return CareKey(*care) < CareKey(*other.care);
}

bool QuestionKey::operator<(const QuestionKey& other) const {
  if (const auto order = walk <=> other.walk; std::is_neq(order)) return std::is_lt(order);
  if (question == other.question) return false;
  const auto standing = StandingKey(schedule->standing), others = StandingKey(other.schedule->standing);
  if (standing != others) return standing < others;
  return std::tie(question->kind, question->text, question->start, question->options, question->asked_from) <
         std::tie(other.question->kind, other.question->text, other.question->start, other.question->options,
                  other.question->asked_from);
}

bool IsShown(const CareLine& care) { return care.state != CareState::kNotYet && care.state != CareState::kOpen; }

}  // namespace rindwatch::rules
