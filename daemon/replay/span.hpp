// Which span a replay is asked about, of what was kept. Pure.
#pragma once

#include <optional>
#include <string>

#include "rules/time.hpp"

namespace rindwatch {

struct AskedSpan {
  std::string from, to;  // days such as "2026-08-25"; empty: not said
  int days = 90;         // without `from`
};
struct ReplaySpan {
  rules::Instant from, to;  // [from, to)
};

// `first` and `last` are the oldest and the newest that were kept. Throws std::runtime_error with a sentence for the
// keeper where the span is upside down or empty, or where nothing of it was kept; one that only begins before the first
// or ends after the last is one.
ReplaySpan SpanOfDays(const AskedSpan& asked, rules::Instant first, rules::Instant last, const rules::DayTurn& home);

// "2026-08-25 10:04" by the keeper's clock.
std::string MinuteText(rules::Instant at, const rules::DayTurn& home);

}  // namespace rindwatch
