// Readings of a channel gathered into the columns of a drawing.
#pragma once

#include <vector>

#include "daemon/store/sqlite/database.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

// The buckets [from + k width, from + (k + 1) width) of [from, to) that hold a reading; ascending. Repeats are left
// out. A width of nothing, or a span that ends before it begins, holds none.
std::vector<Bucket> ReadHistory(sqlite::Database& database, rules::ChannelId channel, rules::Instant from,
                                rules::Instant to, rules::Millis width);

}  // namespace rindwatch
