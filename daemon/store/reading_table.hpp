// The SQL on readings that are written, and on what a start must know of them. Belongs to the writing connection.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "daemon/store/sqlite/statement.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class ReadingTable {
 public:
  explicit ReadingTable(sqlite::Database& database);

  // The kept value of a reading that named its own time; none: not kept yet.
  std::optional<std::int64_t> OwnValue(rules::ChannelId channel, rules::Instant measured_at);
  void Insert(std::int64_t position, std::int64_t ordinal, rules::Instant kept_at, const rules::Reading& reading);
  void RememberMessage(const std::string& topic, std::uint64_t fingerprint);

  // Brings channel_newest up to `position`. Inside a transaction of the caller's.
  void SumUp(std::int64_t position);
  // Nothing was measured after `until`, whatever a wrong clock said. Inside a transaction of the caller's.
  void CapNewest(rules::Instant until);
  LastKnown ReadLastKnown();

 private:
  sqlite::Database& database_;
  sqlite::Statement own_value_;
  sqlite::Statement insert_;
  sqlite::Statement remember_;
  sqlite::Statement sum_up_;
  sqlite::Statement summed_;
};

}  // namespace rindwatch
