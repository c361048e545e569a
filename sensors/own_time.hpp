// The instant that a payload names for its own measuring.
#pragma once

#include <optional>
#include <string_view>

#include "rules/time.hpp"

namespace rindwatch::sensors {

// Seconds since 1970, or milliseconds when the number is 100 000 000 000 or more (as seconds that would be the year
// 5138). Nothing for a number that is no instant.
std::optional<rules::Instant> OwnTimeFromNumber(double since_epoch);

// ISO 8601 as RFC 3339 narrows it: date, "T" or a blank, time, then "Z" or an offset (+01:00, +0100, +01); or a number
// as above. A time without an offset could be any zone's and gives nothing.
std::optional<rules::Instant> OwnTimeFromText(std::string_view text);

}  // namespace rindwatch::sensors
