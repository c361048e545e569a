// Acts of several parts: each part goes into the history under a name of its own, "ID/3", and is undone with the act.
#pragma once

#include <string>
#include <vector>

#include "rules/care/history.hpp"

namespace rindwatch {

inline rules::ActId PartOf(const std::string& act, std::size_t number) { return act + "/" + std::to_string(number); }

// The act that a name in a history belongs to: itself, or what stands before its last stroke.
inline rules::ActId ActOf(const rules::ActId& name) {
  if (name.IsDigits()) return name;
  const std::string text = name.Text();
  return std::string_view(text).substr(0, text.find('/'));
}

// How the names of an act's parts in a history end: "/3".
std::vector<std::string> PartsIn(const rules::WheelHistory& history, const std::string& act);

}  // namespace rindwatch
