// One line from the groups that share it.
#pragma once

#include <vector>

#include "rules/round/order.hpp"
#include "rules/round/round.hpp"

namespace rindwatch::rules {

RoundLinePtr MakeLine(const LineKey& shared, const std::vector<const RoundGroup*>& groups, Date day, const Pace& pace);
RoundQuestionPtr MakeQuestion(const QuestionKey& key, const std::vector<const RoundGroup*>& groups);

// What is reckoned for a wheel that was never weighed: soft families are small.
Grams WeightOr(Grams weight, const Plan& plan);
// Seconds for the kinds of a line, wheel by wheel; what two do together goes faster.
double SecondsFor(const std::vector<CareKind>& kinds, const std::vector<RoundWheel>& wheels, const Plan& plan,
                  const RoundPlace& place, const Pace& pace);
// By the general guide of the United Kingdom for lifting: 25 kg close to the body at the waist, 10 kg at the shoulder
// (from memory; 25 to 45 kg wheels are work for two or a hoist).
bool NeedsTwo(Grams weight, bool high);

}  // namespace rindwatch::rules
