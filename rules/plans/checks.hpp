// Contradictions between fields of a plan that could each be read.
#pragma once

#include "rules/plans/faults.hpp"

namespace rindwatch::rules {

void CheckPlan(const Plan& plan, Faults& faults);
// The cares of one stage, against each other and against the days of the stage.
void CheckCares(const Stage& stage, const std::string& field, Faults& faults);

// Of a figure that is there: low does not lie above high.
void CheckFigure(const std::optional<Figure>& figure, const std::string& field, Faults& faults);
// What goes into a wash, and what must be said beside it.
void CheckWash(const Care& care, const std::string& field, Faults& faults);

// As a keeper would type it.
std::string Shown(double value);
std::string Shown(const Figure& figure);  // "12 to 13"
std::string Quoted(std::string_view text);

}  // namespace rindwatch::rules
