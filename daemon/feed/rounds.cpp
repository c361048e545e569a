#include "daemon/feed/rounds.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/round_lines.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch::feed {

using rules::Date;

namespace {

// By the clock on the wall; so does the perfect keeper who is reckoned with.
constexpr std::chrono::hours kHour{7};
constexpr std::size_t kMostPlaces = 4;  // that a summary names

struct Told {
  std::string place;
  std::vector<rules::CareKind> kinds;
  std::size_t count = 0;
};

struct Day {
  Date date;
  int minutes = 0;
  std::vector<Told> lines;
};

Day TodayOf(const Book& book, const rules::Round& round) {
  Day day{round.day, round.Minutes(), {}};
  for (const rules::Round::Line& line : round.lines) {
    if (!line.line->care->OnRound()) continue;
    day.lines.push_back({PlaceName(book, line.line->place), line.line->care->kinds, line.line->wheels.size()});
  }
  return day;
}

Day DayOf(const Book& book, const rules::ComingDay& coming) {
  Day day{coming.day, coming.minutes, {}};
  for (const rules::ComingLine& line : coming.lines)
    day.lines.push_back({PlaceName(book, line.place), line.kinds, line.wheels.size()});
  return day;
}

std::string Places(const Words& words, const Day& day) {
  std::vector<std::string> places;
  for (const Told& line : day.lines) {
    if (std::ranges::find(places, line.place) == places.end()) places.push_back(line.place);
  }
  std::string text;
  for (std::size_t i = 0; i < std::min(places.size(), kMostPlaces); ++i) text += (i == 0 ? "" : ", ") + places[i];
  const std::size_t more = places.size() - std::min(places.size(), kMostPlaces);
  if (more == 0) return text;
  return words.Say("morning.and", {{"list", text}, {"last", words.Count("morning.more places", more)}});
}

// The book's own mark, so that the calendars of two houses can lie in one: of the first act that entered a wheel.
std::string HouseMark(const Book& book) {
  std::uint64_t hash = 14695981039346656037ULL;  // FNV-1a, 64 bits
  const WheelRow* first = nullptr;
  for (rules::WheelId id = 1; !first && id < book.NextWheel(); ++id) first = book.Wheel(id);
  const std::string text = first ? first->act.Text() : std::string{};
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return fmt::format("{:016x}", hash);
}

Event EventOf(const ApiContext& context, const Day& day, const std::string& house) {
  const Words& words = context.words;
  Event event;
  event.uid = fmt::format("round-{}-{}@rindwatch", ToText(day.date), house);
  event.start = context.book().Home().zone.FirstInstantAtOrAfter(rules::LocalTime{day.date} + kHour);
  event.length = std::chrono::minutes{day.minutes};
  event.summary = words.Say(
      "feed.summary",
      {{"minutes", words.Say("minutes", {{"minutes", std::to_string(day.minutes)}})}, {"places", Places(words, day)}});
  for (const Told& line : day.lines) {
    if (!event.description.empty()) event.description += "\n";
    event.description += words.Say("feed.line", {{"place", line.place},
                                                 {"care", morning::KindWords(words, line.kinds)},
                                                 {"count", std::to_string(line.count)}});
  }
  return event;
}

}  // namespace

Calendar RoundsOf(const ApiContext& context, int day_count) {
  const Book& book = context.book();
  const DayRound& today = context.watch.TodaysRound();
  std::vector<Day> days;
  if (today.Left() > 0) days.push_back(TodayOf(book, today.work));
  for (const rules::ComingDay& coming : context.watch.ComingDays(day_count)) days.push_back(DayOf(book, coming));
  Calendar calendar;
  calendar.name = context.words.Say("feed.name");
  calendar.zone = book.Home().zone;
  calendar.made = context.now();
  const std::string house = HouseMark(book);
  for (const Day& day : days) calendar.events.push_back(EventOf(context, day, house));
  return calendar;
}

}  // namespace rindwatch::feed
