#include "rules/round/line_making.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {

namespace {

constexpr Grams kSmall{250}, kUsual{2000};
constexpr Grams kTwoAtTheWaist{25'000}, kTwoAtTheShoulder{10'000};
// Two turn a wheel of 25 kg in 30 s, one in 60 to 80 (common practice, no source).
constexpr double kFasterByTwo = 30.0 / 70.0;
constexpr int kSoft = 0;  // the hardiness of a soft family

std::vector<RoundWheel> WheelsOf(const std::vector<const RoundGroup*>& groups) {
  std::vector<RoundWheel> wheels;
  for (const RoundGroup* group : groups) wheels.insert(wheels.end(), group->wheels.begin(), group->wheels.end());
  std::ranges::sort(wheels, {}, [](const RoundWheel& wheel) { return std::pair(wheel.number, wheel.id); });
  return wheels;
}

// Of all that was seen on them the gravest.
std::optional<FaultKind> MarkOf(const std::vector<const RoundGroup*>& groups) {
  const auto gravity = [](const RoundGroup* group) { return group->mark ? GravityOf(*group->mark) : -1; };
  return (*std::ranges::max_element(groups, {}, gravity))->mark;
}

// What is still to be done of it: of a settled line all that was asked.
std::vector<CareKind> KindsToDo(const CareLine& care) {
  std::vector<CareKind> kinds;
  for (const CareKind kind : care.kinds) {
    if (!care.OnRound() || !Contains(care.done_kinds, kind)) kinds.push_back(kind);
  }
  return kinds;
}

// Of the cares that share the line the one that can wait least; it speaks for all. The order of the groups makes no
// difference; the key may be of a group that has left since.
LineKey MostPressing(const LineKey& shared, const std::vector<const RoundGroup*>& groups) {
  const auto wait = [](const CareLine& care) { return std::tie(care.window_end, care.due); };
  std::optional<LineKey> most;
  for (const RoundGroup* group : groups) {
    for (const CareLine& care : group->schedule->lines) {
      if (!IsShown(care) || (most && wait(care) >= wait(*most->care))) continue;
      const LineKey own{shared.walk, group->schedule, &care};
      if (!(own < shared) && !(shared < own)) most = own;
    }
  }
  return most.value_or(shared);
}

}  // namespace

Grams WeightOr(Grams weight, const Plan& plan) {
  if (weight.value > 0) return weight;
  return plan.hardiness == kSoft ? kSmall : kUsual;
}

bool NeedsTwo(Grams weight, bool high) { return weight >= (high ? kTwoAtTheShoulder : kTwoAtTheWaist); }

double SecondsFor(const std::vector<CareKind>& kinds, const std::vector<RoundWheel>& wheels, const Plan& plan,
                  const RoundPlace& place, const Pace& pace) {
  double seconds = 0;
  for (const RoundWheel& wheel : wheels) {
    const Grams weight = WeightOr(wheel.weight, plan);
    const bool by_two = NeedsTwo(weight, place.high) && !pace.Learned(kinds, weight);
    seconds += pace.SecondsOf(kinds, weight) * (by_two ? kFasterByTwo : 1);
  }
  return seconds;
}

RoundLinePtr MakeLine(const LineKey& shared, const std::vector<const RoundGroup*>& groups, Date day, const Pace& pace) {
  const LineKey key = MostPressing(shared, groups);
  const RoundGroup& first = *groups.front();
  const Standing& standing = key.schedule->standing;
  auto line = std::make_shared<RoundLine>();
  line->place = first.place;
  line->lot = first.lot;
  line->mark = MarkOf(groups);
  line->held = std::ranges::any_of(groups, &RoundGroup::held);
  line->marked = IsMarked(first);
  line->age_group = key.walk.age_group;
  line->schedule = key.schedule;
  line->care = key.care;
  line->wheels = WheelsOf(groups);
  const std::vector<CareKind> kinds = KindsToDo(*key.care);
  // Whole ones, so that nobody who is told hundredths of a minute rounds otherwise.
  line->seconds = std::round(SecondsFor(kinds, line->wheels, *standing.plan, first.place, pace));
  // Nobody lifts a wheel to look at it.
  const bool handled = std::ranges::any_of(kinds, [](CareKind kind) { return kind != CareKind::kLook; });
  line->two_people = handled && std::ranges::any_of(line->wheels, [&](const RoundWheel& wheel) {
                       return NeedsTwo(WeightOr(wheel.weight, *standing.plan), first.place.high);
                     });
  line->look_first = LookFirstAt(standing, *key.care, day);
  line->new_cadence = NewCadenceAt(standing, *key.care);
  return line;
}

RoundQuestionPtr MakeQuestion(const QuestionKey& key, const std::vector<const RoundGroup*>& groups) {
  const RoundGroup& first = *groups.front();
  auto question = std::make_shared<RoundQuestion>();
  question->place = first.place;
  question->lot = first.lot;
  question->mark = MarkOf(groups);
  question->marked = IsMarked(first);
  question->age_group = key.walk.age_group;
  question->schedule = key.schedule;
  question->question = key.question;
  question->wheels = WheelsOf(groups);
  return question;
}

}  // namespace rindwatch::rules
