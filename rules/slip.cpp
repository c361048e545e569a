#include "rules/slip.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace rindwatch::rules {
namespace {

// Letters that must be changed to turn one word into the other: a slip of the pen is at most two.
std::size_t Distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = std::exchange(row[j], std::min({row[j] + 1, row[j - 1] + 1, changed}));
    }
  }
  return row.back();
}

}  // namespace

std::string SlipAdvice(std::string_view key, const std::set<std::string, std::less<>>& known) {
  for (const std::string& candidate : known) {
    if (key.size() < 64 && Distance(key, candidate) <= 2) return "did you mean \"" + candidate + "\"?";
  }
  std::string all;
  for (const std::string& candidate : known) all += (all.empty() ? "" : ", ") + candidate;
  return "remove it, or use one of: " + all;
}

}  // namespace rindwatch::rules
