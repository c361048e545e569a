// A journal line as a row: the columns in the order in which every question names them, and the way back.
#pragma once

#include <string>
#include <vector>

#include "daemon/book/line.hpp"
#include "daemon/store/sqlite/statement.hpp"

namespace rindwatch {

// Of the table `journal`; kLineColumnCount of them. Questions are put together by the preprocessor.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
#define RINDWATCH_LINE_COLUMNS                                                                  \
  "journal.position, journal.kept_at, journal.id, journal.kind, journal.keeper, journal.cave, " \
  "journal.wheels, journal.at, journal.tapped_at, journal.said_at, journal.sent_at, "           \
  "journal.received_at, journal.late_entry"
// The long texts; after the others where a question wants them.
#define RINDWATCH_LINE_TEXTS ", journal.body, journal.given, journal.answer"
// NOLINTEND(cppcoreguidelines-macro-usage)
inline constexpr int kLineColumnCount = 13;
inline constexpr int kKeptAtColumn = 1;

// From the current row.
JournalLine HeadFrom(const sqlite::Rows& rows);  // texts left empty
JournalLine WholeFrom(const sqlite::Rows& rows);

// "[3,4]" and back; throws StoreError on text that the store did not write.
std::string WheelsToText(const std::vector<rules::WheelId>& wheels);
std::vector<rules::WheelId> WheelsFrom(const std::string& text);

}  // namespace rindwatch
