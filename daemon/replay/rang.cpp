#include "daemon/replay/rang.hpp"

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

std::vector<Rung> RangIn(const Book& book, rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave) {
  std::vector<Rung> rang;
  for (const auto& [id, record] : book.AlarmRecords()) {
    const auto alarm = MaybeAlarmFrom(record);
    if (!alarm || alarm->raised < from || alarm->raised >= to || (cave && alarm->cave != *cave)) continue;
    rang.push_back(RungOf(*alarm));
    rang.back().severity = rules::SeverityFrom(fields::TextOr(record, "told", "")).value_or(alarm->severity);
    if (const std::string* called = book.CalledAs(id)) rang.back().called = *called;
  }
  std::ranges::stable_sort(rang, {}, &Rung::raised);
  return rang;
}

}  // namespace rindwatch
