#include "daemon/store/misdated.hpp"

#include <algorithm>
#include <string>

#include "daemon/store/sqlite/statement.hpp"

namespace rindwatch {
namespace {

// Backwards to the first that is right, or to what is known to be misdated: that is later still.
std::int64_t FirstKeptAfter(sqlite::Database& database, const std::string& table, rules::Instant until) {
  sqlite::Statement newest(database, ("SELECT position, kept_at FROM " + table +
                                      " WHERE position > (SELECT ifnull(max(last), 0) FROM misdated) "
                                      "ORDER BY position DESC")
                                         .c_str());
  std::int64_t first = 0;
  for (sqlite::Rows rows = newest.Query(); rows.Next() && rules::FromMillis(rows.Int(1)) > until;) first = rows.Int(0);
  return first;
}

}  // namespace

Misdated Misdated::In(sqlite::Database& database) {
  Misdated found;
  sqlite::Statement spans(database, "SELECT first, last, until FROM misdated ORDER BY first");
  for (sqlite::Rows rows = spans.Query(); rows.Next();)
    found.spans_.push_back({rows.Int(0), rows.Int(1), rules::FromMillis(rows.Int(2))});
  return found;
}

void Misdated::Add(sqlite::Database& database, rules::Instant until) {
  const std::int64_t reading = FirstKeptAfter(database, "reading", until);
  const std::int64_t line = FirstKeptAfter(database, "journal", until);
  if (reading == 0 && line == 0) return;
  const std::int64_t first = reading == 0 || line == 0 ? std::max(reading, line) : std::min(reading, line);
  const std::int64_t last = std::max(database.AskInt("SELECT max(position) FROM reading"),
                                     database.AskInt("SELECT max(position) FROM journal"));
  sqlite::Statement add(database, "INSERT INTO misdated (first, last, until) VALUES (?, ?, ?)");
  add.Run(first, last, rules::ToMillis(until));
}

const Misdated::Span* Misdated::Of(std::int64_t position) const {
  const auto found = std::ranges::find_if(
      spans_, [position](const Span& span) { return span.first <= position && position <= span.last; });
  return found == spans_.end() ? nullptr : &*found;
}

rules::Instant Misdated::RightTime(std::int64_t position, rules::Instant kept_at) const {
  const Span* span = Of(position);
  return span ? std::min(kept_at, span->until) : kept_at;
}

}  // namespace rindwatch
