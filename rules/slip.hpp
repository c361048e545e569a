// What to do about a name that nothing goes by, in a file or in an act.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace rindwatch::rules {

// "did you mean "min_celsius"?" where a known name is a slip of the pen away; else the known names.
std::string SlipAdvice(std::string_view key, const std::set<std::string, std::less<>>& known);

// Those that are known, the nearest to the key first; capitals count for nothing, what is equally near keeps its place.
std::vector<std::string> NearestFirst(std::string_view key, std::vector<std::string> known);

}  // namespace rindwatch::rules
