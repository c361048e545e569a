#include <stdexcept>

#include "rules/plans/embedded.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch::rules {
namespace {

// The texts are part of the program: a fault in one is a fault of the program, not of a keeper's file.
std::vector<Plan> ReadLibrary() {
  std::vector<Plan> plans;
  for (const auto& [name, text] : EmbeddedPlans()) {
    PlanReading reading = ReadPlan(text, name);
    if (!reading.plan) throw std::logic_error(ToText(reading.faults.front(), name));
    plans.push_back(std::move(*reading.plan));
  }
  return plans;
}

}  // namespace

const std::vector<Plan>& PlanLibrary() {
  static const std::vector<Plan> library = ReadLibrary();
  return library;
}

std::shared_ptr<const Plan> PlanFromLibrary(std::string_view id) {
  for (const Plan& plan : PlanLibrary()) {
    // The library outlives every wheel: nothing is owned.
    if (plan.id == id) return {std::shared_ptr<const Plan>{}, &plan};
  }
  return nullptr;
}

std::string TextOf(const Plan& plan) {
  const auto known = PlanFromLibrary(plan.id);
  if (!known || *known != plan) return WritePlan(plan);
  for (const auto& [name, text] : EmbeddedPlans()) {
    if (name == plan.id + ".toml") return std::string{text};
  }
  return WritePlan(plan);
}

}  // namespace rindwatch::rules
