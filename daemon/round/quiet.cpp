#include "daemon/round/quiet.hpp"

#include <algorithm>
#include <set>

namespace rindwatch {

using rules::Date;
using std::chrono::days;

namespace {

constexpr int kLeastDays = 3;

bool IsOfWheels(const JournalLine& line) {
  static const std::set<std::string> kinds{"care", "enter", "answer", "fault", "move", "gone", "cut", "past"};
  return kinds.contains(line.kind);
}

// The newest day before `today` with a line; none if the book's newest lines hold none.
std::optional<Date> LastDayWritten(const Book& book, Date today) {
  std::optional<Date> last;
  for (const JournalLine& line : book.Newest()) {
    if (!IsOfWheels(line) || book.IsUndone(line.id)) continue;
    const Date day = book.Home().DayOf(line.at);
    if (day < today) last = std::max(last.value_or(day), day);
  }
  return last;
}

// Where the journal's newest lines are all of other things: from the wheels' own acts.
std::optional<Date> LastDayDone(const Book& book, Date today) {
  std::optional<Date> last;
  for (const WheelRow* wheel : book.Wheels()) {
    for (const rules::CareAct& act : wheel->History().acts) {
      const Date day = book.Home().DayOf(act.at);
      if (day < today) last = std::max(last.value_or(day), day);
    }
  }
  return last;
}

bool SettledToday(const Book& book, Date today) {
  return std::ranges::any_of(book.Newest(), [&](const JournalLine& line) {
    return line.kind == "past" && !book.IsUndone(line.id) && book.Home().DayOf(line.received_at) == today;
  });
}

// Something is late in a cave that had days without a keeper, and without a mark that there would be none.
bool SomethingSuffered(const Book& book, const rules::Round& today, Date first) {
  return std::ranges::any_of(today.lines, [&](const rules::Round::Line& line) {
    if (line.line->care->state != rules::CareState::kLate) return false;
    const rules::CaveId cave = line.line->place.cave;
    const std::vector<Date> away = book.CalendarOf(cave == 0 ? std::nullopt : std::optional(cave)).away;
    for (Date day = first; day < today.day; day += days{1}) {
      if (std::ranges::find(away, day) == away.end()) return true;
    }
    return false;
  });
}

}  // namespace

std::optional<Date> QuietSince(const Book& book, const rules::Round& today) {
  const bool late = std::ranges::any_of(
      today.lines, [](const rules::Round::Line& line) { return line.line->care->state == rules::CareState::kLate; });
  if (!late || SettledToday(book, today.day)) return std::nullopt;
  auto last = LastDayWritten(book, today.day);
  if (!last) last = LastDayDone(book, today.day);
  if (!last) return std::nullopt;
  const Date first = *last + days{1};
  if ((today.day - first).count() < kLeastDays || !SomethingSuffered(book, today, first)) return std::nullopt;
  return first;
}

}  // namespace rindwatch
