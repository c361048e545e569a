// Instants, days and spans in words. Pure.
#pragma once

#include <chrono>
#include <string>

#include "daemon/words/words.hpp"
#include "rules/time.hpp"

namespace rindwatch {

std::string TimeWords(rules::LocalTime at);  // "06:30"
// "06:30", and of another day than that of `now` "Tue 1 06:30".
std::string MomentWords(const Words& words, rules::LocalTime at, rules::LocalTime now);
// "02:23 to 06:34"; of one other day "Wed 11 21:35 to 23:13"; over midnight "Sat 7 13:00 to Tue 10 04:20".
std::string SpanWords(const Words& words, rules::LocalTime from, rules::LocalTime to, rules::LocalTime now);

std::string ShortDay(const Words& words, rules::Date day);     // "Tue 1"
std::string WeekdayWord(const Words& words, rules::Date day);  // "Tuesday"
std::string LongDay(const Words& words, rules::Date day);      // "Thursday 26 November"
// A weekday by its name while that says which one is meant.
std::string FarDay(const Words& words, rules::Date day, rules::Date today);
// The same, or "today", "tomorrow".
std::string NearDay(const Words& words, rules::Date day, rules::Date today);

std::string MinutesWords(const Words& words, int minutes);              // "15 min"
std::string LastsWords(const Words& words, std::chrono::minutes span);  // "1 h 45 min", "13 h", "21 days"

}  // namespace rindwatch
