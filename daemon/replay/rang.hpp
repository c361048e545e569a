// What rang by the book, without the rules: the one list that the page's month and a replay's `then` are counted from.
// The thread that owns the book.
#pragma once

#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/replay/rung.hpp"

namespace rindwatch {

// How far back the health of the alarms looks.
inline constexpr rules::Millis kMonthOfAlarms = std::chrono::days{30};

// The alarms that were raised in [from, to) over `cave` (none: all), in the order raised, each called as the keeper
// called it, even after the span. Their `told` is empty: the book keeps each alarm as it was last.
std::vector<Rung> RangIn(const Book& book, rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave);

}  // namespace rindwatch
