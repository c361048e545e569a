#include <algorithm>

#include "rules/faults/faults.hpp"

namespace rindwatch::rules {
namespace {

bool Answers(const FaultAdvice& advice, FaultKind fault, RindClass rind, int age) {
  return advice.fault == fault && std::ranges::count(advice.rinds, rind) > 0 && advice.from_age <= age &&
         (!advice.to_age || age <= *advice.to_age);
}

}  // namespace

const FaultAdvice& AdviceFor(FaultKind fault, RindClass rind, int age_days) {
  const auto& catalogue = FaultCatalogue();
  const int age = std::max(age_days, 0);
  const auto found =
      std::ranges::find_if(catalogue, [&](const FaultAdvice& advice) { return Answers(advice, fault, rind, age); });
  // The last entry is that of something else, which holds for every rind and age.
  return found == catalogue.end() ? catalogue.back() : *found;
}

FaultPlan PlanFor(FaultKind fault, RindClass rind, int age_days, Date today) {
  using std::chrono::days;
  const FaultAdvice& advice = AdviceFor(fault, rind, age_days);
  FaultPlan plan;
  plan.advice = &advice;
  for (const FaultCare& care : advice.then) {
    plan.cares.push_back({today + days{care.in_days}, care.kind, care.instead_of});
  }
  plan.look_again = today + days{advice.look_again_days};
  return plan;
}

}  // namespace rindwatch::rules
