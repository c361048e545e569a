// What was kept while this machine's clock was ahead. Every function is one question of its own on any connection.
#pragma once

#include <cstdint>
#include <vector>

#include "daemon/store/sqlite/database.hpp"
#include "rules/time.hpp"

namespace rindwatch {

class Misdated {
 public:
  struct Span {
    std::int64_t first = 0, last = 0;  // positions
    rules::Instant until;              // what the clock showed when it was set back
  };

  // As the file has them.
  static Misdated In(sqlite::Database& database);
  // Writes that all since the first position that was kept after `until` is misdated; nothing if none was. Inside a
  // transaction of the caller's.
  static void Add(sqlite::Database& database, rules::Instant until);

  bool Empty() const { return spans_.empty(); }
  // The span that holds a position; null: its time is right.
  const Span* Of(std::int64_t position) const;
  // When a position was kept, as far as it is known.
  rules::Instant RightTime(std::int64_t position, rules::Instant kept_at) const;

 private:
  std::vector<Span> spans_;  // ascending
};

}  // namespace rindwatch
