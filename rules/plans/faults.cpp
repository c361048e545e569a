#include "rules/plans/faults.hpp"

#include <algorithm>
#include <utility>

namespace rindwatch::rules {
namespace {

bool Holds(std::string_view outer, std::string_view inner) {
  if (outer.empty() || !inner.starts_with(outer)) return false;
  return inner.size() == outer.size() || inner[outer.size()] == '.' || inner[outer.size()] == '[';
}

}  // namespace

std::string ToText(const PlanFault& fault, std::string_view name) {
  std::string text{name};
  if (fault.line > 0) text += ", line " + std::to_string(fault.line);
  if (!fault.field.empty()) text += ": " + fault.field;
  return text + ": " + fault.what;
}

std::string FieldOf(std::string_view parent, std::string_view key) {
  std::string field{parent};
  if (!field.empty()) field += '.';
  return field.append(key);
}

std::string FieldOf(std::string_view parent, std::string_view key, std::size_t index) {
  return FieldOf(parent, key) + '[' + std::to_string(index) + ']';
}

void Faults::Add(const std::string& field, std::string what) {
  faults_.push_back({LineOf(field), field, std::move(what)});
}

bool Faults::IsSound(std::string_view field) const {
  return std::ranges::none_of(
      faults_, [&](const PlanFault& fault) { return Holds(fault.field, field) || Holds(field, fault.field); });
}

std::vector<PlanFault> Faults::Take() {
  std::ranges::stable_sort(faults_, {}, &PlanFault::line);
  return std::exchange(faults_, {});
}

// A field that is missing has no line of its own: then it is the line of what should hold it.
int Faults::LineOf(std::string_view field) const {
  while (!field.empty()) {
    if (const auto found = lines_.find(field); found != lines_.end()) return found->second;
    const auto cut = field.find_last_of(".[");
    field = cut == std::string_view::npos ? std::string_view{} : field.substr(0, cut);
  }
  return 0;
}

}  // namespace rindwatch::rules
