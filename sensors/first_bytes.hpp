// The beginning of a payload as something that can be shown and logged.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rindwatch::sensors {

// Printable ASCII stays, a backslash is doubled, every other byte becomes \xNN; "..." follows where bytes were cut.
std::string FirstBytes(std::string_view bytes, std::size_t most = 80);

}  // namespace rindwatch::sensors
