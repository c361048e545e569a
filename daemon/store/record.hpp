// All that was kept, read beside a running daemon on a read-only connection of its own: for a replay of the rules.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "daemon/store/read_ahead.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

// One thread at a time.
class Record {
 public:
  // Throws StoreError with one sentence.
  static std::unique_ptr<Record> Open(const std::string& path);
  virtual ~Record() = default;

  // Of the lines kept before `since`, in the order of positions; the line's texts are left empty.
  virtual void ReadFacts(rules::Instant since, const std::function<void(const JournalLine&, const Fact&)>& visit) = 0;
  // Messages and lines kept from `since` on, as they were posted, as long as `visit` answers true; it asks nothing of
  // this record, which is being read ahead. Memory stays flat.
  virtual void ReadInputs(rules::Instant since, const VisitInput& visit) = 0;
  // Lines of one kind, ascending.
  virtual void ReadLines(const std::string& kind, const std::function<void(const JournalLine&)>& visit) = 0;
  // When the oldest and the newest were kept; none in an empty file.
  virtual std::optional<rules::Instant> First() = 0;
  virtual std::optional<rules::Instant> Last() = 0;
};

}  // namespace rindwatch
