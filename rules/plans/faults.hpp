// Collects the faults of one plan text, each with the line of the field it concerns.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// Lives while one text is read.
class Faults {
 public:
  // Remembers where a field stands, so that a later fault in it can name the line.
  void Locate(const std::string& field, int line) { lines_.emplace(field, line); }
  void Add(const std::string& field, std::string what);
  // No fault in the field, below it or around it: what it holds can be compared with other fields.
  bool IsSound(std::string_view field) const;
  // In the order of the lines.
  std::vector<PlanFault> Take();

 private:
  int LineOf(std::string_view field) const;

  std::map<std::string, int, std::less<>> lines_;
  std::vector<PlanFault> faults_;
};

// "parts[1].stages[0]", "cares", 2 -> "parts[1].stages[0].cares[2]"
std::string FieldOf(std::string_view parent, std::string_view key);
std::string FieldOf(std::string_view parent, std::string_view key, std::size_t index);

}  // namespace rindwatch::rules
