// What to do about a name that nothing goes by, in a file or in an act.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>

namespace rindwatch::rules {

// "did you mean "min_celsius"?" where a known name is a slip of the pen away; else the known names.
std::string SlipAdvice(std::string_view key, const std::set<std::string, std::less<>>& known);

}  // namespace rindwatch::rules
