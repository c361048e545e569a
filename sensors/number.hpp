// A number as a probe writes it.
#pragma once

#include <string>
#include <string_view>
#include <variant>

namespace rindwatch::sensors {

// Reads one decimal number such as "12.5", "-3" or "1.2e1", blanks around it allowed, nothing else. Always finite.
// Otherwise one clause that says what was expected and found: NaN, infinity, a decimal comma, a unit behind the number
// and a number too large to hold are each named.
std::variant<double, std::string> ReadNumber(std::string_view text);

}  // namespace rindwatch::sensors
