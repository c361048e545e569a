// What the phrases of the morning list are made of: lists of words, and days, times and figures of the words' folder.
// For their own sources.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "daemon/morning/phrases.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/moments.hpp"

namespace rindwatch::morning {

// Those that say something, with `between` between them.
std::string Join(const std::vector<std::string>& parts, std::string_view between);
// The first letter large, for a word that opens a sentence. Words of other scripts stay as they are.
std::string Opening(std::string text);

// "04:20", and of another day "Sat 28 04:20".
std::string SinceWords(const Words& words, const Alarm& alarm);

}  // namespace rindwatch::morning
