// A plan as a file of the keeper's: read, checked and written.
#pragma once

#include <string>

#include "rules/plans/plan.hpp"

namespace rindwatch {

// A plan with the text that it was read from.
struct PlanFile {
  rules::Plan plan;
  std::string text;
};

// The whole text. Throws std::runtime_error with a sentence that names the file.
std::string ReadPlanText(const std::string& path);
// Throws std::runtime_error: what cannot be read, or every fault with its line and field, a line each.
PlanFile ReadPlanFile(const std::string& path);
// Complete or not at all. Throws std::runtime_error; a file that is there is left alone unless `replace`.
void WritePlanFile(const std::string& path, const std::string& text, bool replace);

}  // namespace rindwatch
