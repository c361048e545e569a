// Pieces of what a keeper reads about a fault.
#pragma once

#include <toml++/toml.h>

#include <string>

#include "rules/plans/checks.hpp"

namespace rindwatch::rules {

// A value as it would be typed, shortened.
std::string Shown(const toml::node& node);

}  // namespace rindwatch::rules
