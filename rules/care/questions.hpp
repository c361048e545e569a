// The questions that a wheel puts into the round.
#pragma once

#include <vector>

#include "rules/care/schedule.hpp"
#include "rules/care/timeline.hpp"

namespace rindwatch::rules {

// `waiting`: the kinds that some care of the day still asks for, today or later. What a care will begin is not asked as
// long as that care stands; once it was skipped, or passed before the wheel was known, the keeper is asked instead.
std::vector<Question> QuestionsOn(const Known& known, const Timeline& timeline, Date day, KindSet waiting);
// The days from which the part in force on the day asks its questions, answered or not.
std::vector<Date> QuestionDays(const Timeline& timeline, Date day);

// The part that follows the one in force on the day; null: none does.
const Part* PartAfter(const Timeline& timeline, Date day);

}  // namespace rindwatch::rules
