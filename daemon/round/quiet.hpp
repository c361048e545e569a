// Days that went by without a line: the past is then settled in one tap.
#pragma once

#include <optional>

#include "daemon/book/book.hpp"
#include "rules/round/round.hpp"

namespace rindwatch {

// The first of at least three days before today on which nobody wrote anything about the wheels, while something
// became late in a cave that was not marked as away; none otherwise, and once the past was settled today.
std::optional<rules::Date> QuietSince(const Book& book, const rules::Round& today);

}  // namespace rindwatch
