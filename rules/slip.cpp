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

std::string Lower(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return lower;
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

std::vector<std::string> NearestFirst(std::string_view key, std::vector<std::string> known) {
  const std::string lower = Lower(key.substr(0, 64));
  std::vector<std::pair<std::size_t, std::string>> by_distance;
  for (std::string& name : known) {
    const std::size_t distance = Distance(lower, Lower(name));
    by_distance.emplace_back(distance, std::move(name));
  }
  std::ranges::stable_sort(by_distance, {}, &std::pair<std::size_t, std::string>::first);
  known.clear();
  for (auto& [distance, name] : by_distance) known.push_back(std::move(name));
  return known;
}

}  // namespace rindwatch::rules
