#include "rules/plans/shown.hpp"

#include <algorithm>
#include <cstdio>
#include <sstream>

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

}  // namespace

std::string Shown(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}

std::string Shown(const Figure& figure) { return Shown(figure.low) + " to " + Shown(figure.high); }

std::string Quoted(std::string_view text) { return '"' + std::string{text} + '"'; }

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
