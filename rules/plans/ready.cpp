#include "rules/plans/ready.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

const BranchOption* Chosen(const Branch& branch, std::span<const std::string_view> answers) {
  const BranchOption* chosen = nullptr;
  for (const std::string_view answer : answers) {
    const auto option = std::ranges::find(branch.options, answer, &BranchOption::name);
    if (option != branch.options.end()) chosen = &*option;
  }
  return chosen;
}

}  // namespace

const std::optional<Figure>& ReadyDays(const Plan& plan, std::span<const std::string_view> answers) {
  const std::optional<Figure>* window = &plan.ready_days;
  for (const Part& part : plan.parts) {
    const BranchOption* road = part.branch ? Chosen(*part.branch, answers) : nullptr;
    if (road && road->ready_days) window = &road->ready_days;
  }
  return *window;
}

}  // namespace rindwatch::rules
