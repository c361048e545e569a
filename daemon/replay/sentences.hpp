// What rang, and what other limits would have made of it, in the keeper's words: the same on the page and in the
// terminal.
#pragma once

#include <string>

#include "daemon/replay/replay.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch {

// What an alarm was, as the keeper called it: a word of ours, or the keeper's own.
std::string WhatWord(const Words& words, const std::string& what);
// "It rang 3 times: 2 real, 1 door."
std::string TallySentence(const Words& words, const Tally& tally);
// "the last 12 days"; from two months on "the last three months".
std::string SpanWord(const Words& words, rules::Millis span);
// "With these limits the last three months would have rung 4 times instead of 31, and rung for both that you called
// real. It would no longer have rung for 3 of the 4 that you called a door." `span` empty: "it would have rung".
std::string ReplaySentence(const Words& words, const ReplayReport& report, const std::string& span);

// "Until 2026-11-12 10:04 the rules were version 15, here they are 16: what differs there may come of that." Empty
// where those of now decided all of it.
std::string RulesSentence(const Words& words, const ReplayReport& report, const rules::DayTurn& home);

}  // namespace rindwatch
