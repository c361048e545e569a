#include "daemon/store/line_rows.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <boost/json.hpp>

#include "daemon/store/store.hpp"

namespace rindwatch {
namespace {

std::optional<rules::Instant> MaybeInstant(const sqlite::Rows& rows, int column) {
  const auto millis = rows.MaybeInt(column);
  if (!millis) return std::nullopt;
  return rules::FromMillis(*millis);
}

}  // namespace

JournalLine HeadFrom(const sqlite::Rows& rows) {
  JournalLine line;
  line.position = rows.Int(0);
  line.id = rows.Text(2);
  line.kind = rows.Text(3);
  line.keeper = rows.Text(4);
  line.cave = rows.MaybeInt(5);
  line.wheels = WheelsFrom(rows.Text(6));
  line.at = rules::FromMillis(rows.Int(7));
  line.tapped_at = MaybeInstant(rows, 8);
  line.said_at = MaybeInstant(rows, 9);
  line.sent_at = MaybeInstant(rows, 10);
  line.received_at = rules::FromMillis(rows.Int(11));
  line.late_entry = rows.Int(12) != 0;
  return line;
}

JournalLine WholeFrom(const sqlite::Rows& rows) {
  JournalLine line = HeadFrom(rows);
  line.body = rows.Text(kLineColumnCount);
  line.given = rows.Text(kLineColumnCount + 1);
  line.answer = rows.Text(kLineColumnCount + 2);
  return line;
}

std::string WheelsToText(const std::vector<rules::WheelId>& wheels) {
  return fmt::format("[{}]", fmt::join(wheels, ","));
}

std::vector<rules::WheelId> WheelsFrom(const std::string& text) {
  try {
    return boost::json::value_to<std::vector<rules::WheelId>>(boost::json::parse(text));
  } catch (const std::exception&) {
    throw StoreError("A journal line names its wheels as \"" + text +
                     "\" where a list of numbers stood: the file was changed "
                     "by something else; put back the last backup.");
  }
}

}  // namespace rindwatch
