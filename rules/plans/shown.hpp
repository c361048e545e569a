// Pieces of what a keeper reads about a fault.
#pragma once

#include <toml++/toml.h>

#include <functional>
#include <set>
#include <string>
#include <string_view>

#include "rules/plans/checks.hpp"

namespace rindwatch::rules {

// A value as it would be typed, shortened.
std::string Shown(const toml::node& node);
// What to do about a key that nobody knows.
std::string Advice(std::string_view key, const std::set<std::string, std::less<>>& known);

}  // namespace rindwatch::rules
