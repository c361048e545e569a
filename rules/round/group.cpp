#include "rules/round/group.hpp"

#include "rules/faults/faults.hpp"

namespace rindwatch::rules {

namespace {

// The last day of the young and of the middle group, in days since made. Common practice, no source: a white rind is
// wrapped about day 12; a washed one is washed most in its first two weeks and takes colour until about day 45; a
// natural or pressed one is washed or rubbed often for three weeks and brushed from about day 60; a blue one is pierced
// and salted in its first two weeks, and slow from about day 60.
struct Bounds {
  int young, middle;
};

constexpr Bounds BoundsOf(RindClass rind) {
  switch (rind) {
    case RindClass::kFreshAndWhite:
      return {7, 14};
    case RindClass::kNaturalAndPressed:
      return {21, 60};
    case RindClass::kWashed:
      return {14, 45};
    case RindClass::kBlue:
      return {14, 60};
  }
  return {21, 60};
}

}  // namespace

bool IsMarked(const RoundGroup& group) {
  if (group.held) return true;
  const Standing& standing = group.schedule->standing;
  return group.mark && AdviceFor(*group.mark, standing.plan->rind, standing.age).apart;
}

int AgeGroupOf(RindClass rind, int age) {
  const Bounds bounds = BoundsOf(rind);
  return age <= bounds.young ? 0 : age <= bounds.middle ? 1 : 2;
}

}  // namespace rindwatch::rules
