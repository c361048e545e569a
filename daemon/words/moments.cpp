#include "daemon/words/moments.hpp"

#include <fmt/format.h>

namespace rindwatch {

using rules::Date;
using rules::LocalTime;
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

std::string ShortDay(const Words& words, Date day) {
  return fmt::format("{} {}", words.Say(fmt::format("weekday.short.{}", rules::WeekdayOf(day).iso_encoding())),
                     static_cast<unsigned>(std::chrono::year_month_day{day}.day()));
}

std::string WeekdayWord(const Words& words, Date day) {
  return words.Say(fmt::format("weekday.{}", rules::WeekdayOf(day).iso_encoding()));
}

std::string LongDay(const Words& words, Date day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {} {}", WeekdayWord(words, day), static_cast<unsigned>(date.day()),
                     words.Say(fmt::format("month.{}", static_cast<unsigned>(date.month()))));
}

std::string FarDay(const Words& words, Date day, Date today) {
  const auto away = day > today ? day - today : today - day;
  if (away < days{7}) return WeekdayWord(words, day);
  const std::chrono::year_month_day date{day};
  const bool far = date.year() != std::chrono::year_month_day{today}.year() && away > days{180};
  return far ? fmt::format("{} {}", LongDay(words, day), static_cast<int>(date.year())) : LongDay(words, day);
}

std::string NearDay(const Words& words, Date day, Date today) {
  if (day == today) return words.Say("day.today");
  if (day == today + days{1}) return words.Say("day.tomorrow");
  return FarDay(words, day, today);
}

std::string MinutesWords(const Words& words, int minutes) {
  return words.Say("minutes", {{"minutes", std::to_string(minutes)}});
}

std::string LastsWords(const Words& words, std::chrono::minutes span) {
  const auto hours = span.count() / 60, minutes = span.count() % 60;
  if (hours == 0) return MinutesWords(words, static_cast<int>(minutes));
  // Of half a day or more nobody counts the minutes, and of a week or more nobody the hours.
  if (hours / 24 >= 7) return words.Count("days", static_cast<std::size_t>((span.count() + 720) / 1440));
  const auto whole = hours >= 12 ? (span.count() + 30) / 60 : hours;
  if (whole >= 48) {
    const std::string text = words.Count("days", static_cast<std::size_t>(whole / 24));
    return whole % 24 == 0 ? text : text + " " + words.Say("hours", {{"hours", std::to_string(whole % 24)}});
  }
  if (minutes == 0 || hours >= 12) return words.Say("hours", {{"hours", std::to_string(whole)}});
  return words.Say("hours.minutes", {{"hours", std::to_string(hours)}, {"minutes", std::to_string(minutes)}});
}

}  // namespace rindwatch
