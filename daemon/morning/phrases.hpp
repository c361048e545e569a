// The phrases of the morning list, from facts and the words file.
#pragma once

#include <string>
#include <vector>

#include "daemon/morning/facts.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch::morning {

std::string SubjectWords(const Words& words, const List& list);
std::string DateWords(const Words& words, const List& list);  // "Thursday 26 November, 06:30"

std::string KindWords(const Words& words, const std::vector<CareKind>& kinds);   // "wash, turn"
std::string CaredWords(const Words& words, const std::vector<CareKind>& kinds);  // "washed, turned"
std::string CareWords(const Words& words, const Line& line);
std::string WhatWords(const Words& words, const Line& line);  // "lot 222, day 1, drying"
std::string WhatWords(const Words& words, const Question& question);
// "was due Monday. Dusty? Mask"; empty: nothing to say.
std::string NoteWords(const Words& words, const Line& line, Date today);
// "Nothing to do today.", "All done for today."; of another day by its name.
std::string NothingWords(const Words& words, const List& list);
std::string RindWords(const Words& words, rules::RindClass rind);
std::string ChangeWords(const Words& words, const std::vector<rules::Change>& change);  // "gloves, brush; mask on"

// "16200 ppm"; of what nobody knows now "not known now, last 16200 ppm". Empty: it is of no gas, or nothing was said.
std::string GasFigure(const Words& words, const Alarm& alarm);
// "Urgent: " before what is said of gas that is.
std::string WithUrgency(const Words& words, const Alarm& alarm, const std::string& said);
// What a list of messages shows of it: a subject in at most so many characters, without the last of its sentences and,
// of one that is too long by itself, of its parts. They are whole, and the weightiest stand first. `most`: less what
// stands before or behind it.
inline constexpr std::size_t kMostOfSubject = 120;
std::string ShortSubject(std::string text, std::size_t most = kMostOfSubject);

// "in 1 h 45 to 2 h 45"; "by now" where the span has begun, "in 3 h at the earliest" where it may never come.
std::string MatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest);
// The same of a place of which nothing is heard: by the hours of the wall, which stay the same from letter to letter,
// since nothing new is known. `now`: from which it is counted.
std::string DarkMatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest,
                            LocalTime now);
std::string AlarmWords(const Words& words, const Alarm& alarm);
// Whether it leads the list: what can wait does not, nor does a hint.
bool Leads(const Alarm& alarm);
// "Nobody has taken it yet."; `nobody` false: of one that asks anew only who had taken it before.
std::string TakenWords(const Words& words, const Alarm& alarm, bool nobody = true);
std::vector<std::string> BringWords(const Words& words, const Bring& bring);  // washes; everything else
std::string StateWords(const Words& words, const Cave& cave);
std::string FigureWords(const Words& words, const Cave& cave, Date today);
std::string EarlyWords(const Words& words, const Early& early, Date today);
std::string ComingWords(const Words& words, const List& list);

}  // namespace rindwatch::morning
