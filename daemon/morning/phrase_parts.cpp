#include "daemon/morning/phrase_parts.hpp"

#include <fmt/format.h>

namespace rindwatch::morning {

using std::chrono::days;

std::string TimeWords(LocalTime at) {
  const std::chrono::hh_mm_ss clock{at - std::chrono::floor<days>(at)};
  return fmt::format("{:02}:{:02}", clock.hours().count(), clock.minutes().count());
}

std::string MomentWords(const Words& words, LocalTime at, LocalTime now) {
  const Date day = std::chrono::floor<days>(at);
  return day == std::chrono::floor<days>(now) ? TimeWords(at) : ShortDay(words, day) + " " + TimeWords(at);
}

std::string SpanWords(const Words& words, LocalTime from, LocalTime to, LocalTime now) {
  const auto first = std::chrono::floor<days>(from), last = std::chrono::floor<days>(to);
  if (first == last)
    return words.Say("span", {{"low", MomentWords(words, from, now)}, {"high", MomentWords(words, to, to)}});
  const auto dated = [&](LocalTime at, Date day) { return ShortDay(words, day) + " " + TimeWords(at); };
  return words.Say("span", {{"low", dated(from, first)}, {"high", dated(to, last)}});
}

std::string BegunUnwatchedWords(const Words& words, const std::string& last, const std::string& from,
                                const std::string& to) {
  if (last == from) return words.Say("alarm.unwatched begun", {{"from", from}, {"to", to}});
  return words.Say("alarm.unwatched begun apart", {{"last", last}, {"from", from}, {"to", to}});
}

std::string ShortDay(const Words& words, Date day) {
  return fmt::format("{} {}", words.Say(fmt::format("weekday.short.{}", rules::WeekdayOf(day).iso_encoding())),
                     static_cast<unsigned>(std::chrono::year_month_day{day}.day()));
}

std::string SinceWords(const Words& words, const Alarm& alarm) {
  return MomentWords(words, alarm.since, alarm.since + alarm.lasts);
}

std::string Join(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

std::string Opening(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string Weekday(const Words& words, Date day) {
  return words.Say(fmt::format("weekday.{}", rules::WeekdayOf(day).iso_encoding()));
}

std::string LongDay(const Words& words, Date day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {} {}", Weekday(words, day), static_cast<unsigned>(date.day()),
                     words.Say(fmt::format("month.{}", static_cast<unsigned>(date.month()))));
}

std::string FarDay(const Words& words, Date day, Date today) {
  const auto away = day > today ? day - today : today - day;
  return away < days{7} ? Weekday(words, day) : LongDay(words, day);
}

std::string NearDay(const Words& words, Date day, Date today) {
  if (day == today) return words.Say("day.today");
  if (day == today + days{1}) return words.Say("day.tomorrow");
  return FarDay(words, day, today);
}

std::string Minutes(const Words& words, int minutes) {
  return words.Say("minutes", {{"minutes", std::to_string(minutes)}});
}

}  // namespace rindwatch::morning
