// What the phrases of the morning list are made of: days, times, lists of words. For their own sources.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "daemon/morning/phrases.hpp"

namespace rindwatch::morning {

// Those that say something, with `between` between them.
std::string Join(const std::vector<std::string>& parts, std::string_view between);
// The first letter large, for a word that opens a sentence. Words of other scripts stay as they are.
std::string Opening(std::string text);

std::string Weekday(const Words& words, Date day);  // "Tuesday"
std::string LongDay(const Words& words, Date day);  // "Thursday 26 November"
// A weekday by its name while that says which one is meant.
std::string FarDay(const Words& words, Date day, Date today);
// The same, or "today", "tomorrow".
std::string NearDay(const Words& words, Date day, Date today);
std::string Minutes(const Words& words, int minutes);  // "15 min"
// "04:20", and of another day "Sat 28 04:20".
std::string SinceWords(const Words& words, const Alarm& alarm);

}  // namespace rindwatch::morning
