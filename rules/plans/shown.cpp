#include "rules/plans/shown.hpp"

#include <algorithm>
#include <cstdio>
#include <sstream>
#include <utility>
#include <vector>

namespace rindwatch::rules {
namespace {

constexpr std::size_t kLongestShown = 40;

std::string_view KindOf(const toml::node& node) {
  if (node.is_table()) return "a table";
  if (node.is_array()) return "a list";
  if (node.is_string()) return "a text";
  if (node.is_boolean()) return "true or false";
  if (node.is_number()) return "a number";
  return "a date or time";
}

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

std::string Shown(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}

std::string Shown(const Figure& figure) { return Shown(figure.low) + " to " + Shown(figure.high); }

std::string Quoted(std::string_view text) { return '"' + std::string{text} + '"'; }

std::string Advice(std::string_view key, const std::set<std::string, std::less<>>& known) {
  for (const std::string& candidate : known) {
    if (key.size() < 64 && Distance(key, candidate) <= 2) return "did you mean \"" + candidate + "\"?";
  }
  std::string all;
  for (const std::string& candidate : known) all += (all.empty() ? "" : ", ") + candidate;
  return "remove it, or use one of: " + all;
}

std::string Shown(const toml::node& node) {
  std::string text;
  if (const auto* string = node.as_string()) {
    text = string->get();
  } else if (node.is_table() || node.is_array()) {
    return std::string{KindOf(node)};
  } else {
    std::ostringstream out;
    node.visit([&](const auto& value) {
      if constexpr (toml::is_value<decltype(value)>) out << value;
    });
    return out.str();
  }
  if (text.size() > kLongestShown) text = text.substr(0, kLongestShown) + "...";
  return '"' + text + '"';
}

}  // namespace rindwatch::rules
