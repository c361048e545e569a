// What was kept, read back in the order in which it was kept. Every function is one question of its own on any
// connection to the file.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include "daemon/store/sqlite/database.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

// The newest position and its instant; 0 and the epoch in an empty file.
struct LastKept {
  std::int64_t position = 0;
  rules::Instant at;
};
LastKept ReadLastKept(sqlite::Database& database);

// Messages and lines with a position above `after_position`, and not kept before `since`, ascending. Where a clock was
// set back some that were kept before may come too.
void ScanInputs(sqlite::Database& database, std::int64_t after_position, std::optional<rules::Instant> since,
                const std::function<void(const Committed&)>& visit);
// The same, as long as `visit` answers true.
void ScanInputsWhile(sqlite::Database& database, std::int64_t after_position, std::optional<rules::Instant> since,
                     const std::function<bool(const Committed&)>& visit);
// Of a table with positions, the last that was kept before an instant; 0 if none was.
std::int64_t LastPositionBefore(sqlite::Database& database, const std::string& table, rules::Instant since);
// The newest message or line whose time is right.
std::optional<Committed> ReadNewest(sqlite::Database& database);
// Facts by (position, ordinal), each with its line; the line's texts are left empty.
void ScanFacts(sqlite::Database& database, const std::function<void(const JournalLine&, const Fact&)>& visit);

}  // namespace rindwatch
