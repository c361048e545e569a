#include "rules/notices/mornings.hpp"

#include <array>

namespace rindwatch::rules {

namespace {

// The instant of an hour on a keeper's day: an hour before the day turns is of the night after it.
Instant HourOf(const DayTurn& turn, Date day, std::chrono::minutes hour) {
  const Date date = hour < std::chrono::hours{turn.hour} ? day + std::chrono::days{1} : day;
  return turn.zone.FirstInstantAtOrAfter(LocalTime{date} + hour);
}

bool Wants(const ListReader& reader, const DayOfWork& work) {
  switch (reader.habit) {
    case ListHabit::kWork:
      return work.work || WeekdayOf(work.day) == std::chrono::Sunday;
    case ListHabit::kDaily:
      return true;
    case ListHabit::kNever:
      return false;
  }
  return false;
}

class Collecting {
 public:
  Collecting(const std::set<ListSent>& sent, const DayTurn& turn, Instant now, DueLists& into)
      : sent_(sent), turn_(turn), now_(now), into_(into) {}

  void Add(const ListReader& reader, Date day, bool evening, std::chrono::minutes hour, bool wanted) {
    const ListSent list{reader.hearer.name, day, evening};
    if (sent_.contains(list)) return;
    const Instant at = HourOf(turn_, day, hour);
    if (at > now_) return Wake(at);
    (wanted && at >= reader.since ? into_.now : into_.passed).push_back(list);
  }
  void Wake(Instant at) {
    if (!into_.next || at < *into_.next) into_.next = at;
  }

 private:
  const std::set<ListSent>& sent_;
  const DayTurn& turn_;
  Instant now_;
  DueLists& into_;
};

}  // namespace

std::string_view ToText(ListHabit habit) {
  switch (habit) {
    case ListHabit::kWork:
      return "work";
    case ListHabit::kDaily:
      return "daily";
    case ListHabit::kNever:
      return "never";
  }
  return "";
}

std::optional<ListHabit> ListHabitFrom(std::string_view text) {
  for (const ListHabit habit : std::array{ListHabit::kWork, ListHabit::kDaily, ListHabit::kNever})
    if (ToText(habit) == text) return habit;
  return std::nullopt;
}

DueLists ListsDue(std::span<const ListReader> readers, const DayOfWork& work, const std::set<ListSent>& sent,
                  const DayTurn& turn, Instant now) {
  DueLists due;
  Collecting collecting(sent, turn, now, due);
  for (const ListReader& reader : readers) {
    if (reader.habit == ListHabit::kNever) continue;
    if (!IsAway(reader.hearer, work.day)) {
      collecting.Add(reader, work.day, false, reader.morning, Wants(reader, work));
      if (reader.evening) collecting.Add(reader, work.day, true, *reader.evening, work.evening);
    }
    collecting.Wake(HourOf(turn, work.day + std::chrono::days{1}, reader.morning));
  }
  return due;
}

}  // namespace rindwatch::rules
