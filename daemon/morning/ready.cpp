#include "daemon/morning/ready.hpp"

#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "daemon/api/json.hpp"
#include "daemon/api/lives.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/words/kin_word.hpp"
#include "rules/ahead/ready.hpp"

namespace rindwatch::morning {

namespace {

// Wheels that are told in one line.
struct Turn {
  Date day;    // on which their ready days begin or end
  bool ended;  // else they begin
  Date to;     // the last of them
  auto operator<=>(const Turn&) const = default;
};
// How many, by place and family, in the order of the alphabet.
using Counts = std::map<std::pair<std::string, std::string>, int>;

std::string CountWords(const Words& words, const Counts& counts) {
  std::vector<std::string> parts;
  for (const auto& [where, count] : counts) {
    const auto& [place, family] = where;
    parts.push_back(Join({std::to_string(count) + " " + KinWord(words, family, count), place}, ", "));
  }
  return Join(parts, "; ");
}

std::string TurnWords(const Words& words, const Turn& turn, const Counts& counts, Date today) {
  const bool now = turn.day == today;
  const char* key = turn.ended ? (now ? "morning.ready ends.today" : "morning.ready ends.since")
                               : (now ? "morning.ready.today" : "morning.ready.since");
  return words.Say(key, {{"since", FarDay(words, turn.day, today)},
                         {"to", FarDay(words, turn.to, today)},
                         {"wheels", CountWords(words, counts)}});
}

// The last day of which a list has told: of a wheel that was held at the last one that on which it came to be so.
Date ToldTo(const Book& book, const WheelRow& wheel, rules::Instant told_until) {
  std::optional<rules::Instant> held;
  for (const Since<Hold>* hold : NotUndone(book, wheel.holds, wheel.id)) {
    if (hold->from > told_until) break;
    if (!hold->value.held)
      held.reset();
    else if (!held)
      held = hold->from;
  }
  return book.Home().DayOf(held.value_or(told_until));
}

}  // namespace

void AddReady(const ApiContext& context, rules::Instant told_until, List& list) {
  const Book& book = context.book();
  std::map<Turn, Counts> turns;
  for (const Life& life : LivesOf(book)) {
    const rules::WheelHistory& history = life.First().History();
    const auto calendar = book.CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
    const auto windows = rules::ReadyWindowsOf(history, calendar, context.now());
    if (windows.empty()) continue;
    const rules::ReadyWindow& window = windows.front();
    for (const WheelRow* wheel : life.wheels) {
      const Date told = ToldTo(book, *wheel, told_until);
      const auto is_news = [&](Date day) { return day > told && day <= list.day; };
      if ((!is_news(window.from) && !is_news(window.to)) || book.HoldOf(*wheel)) continue;
      const std::pair who{PlaceName(book, book.PlaceOf(*wheel)), ShortFamily(*history.plans.back().plan)};
      // What began and ended since has ended.
      const bool ended = is_news(window.to);
      ++turns[{ended ? window.to : window.from, ended, window.to}][who];
    }
  }
  for (const auto& [turn, counts] : turns) list.ready.push_back(TurnWords(context.words, turn, counts, list.day));
}

}  // namespace rindwatch::morning
