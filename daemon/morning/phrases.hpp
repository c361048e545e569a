// The phrases of the morning list, from facts and the words file.
#pragma once

#include <string>
#include <vector>

#include "daemon/morning/facts.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch::morning {

std::string SubjectWords(const Words& words, const List& list);
std::string DateWords(const Words& words, const List& list);  // "Thursday 26 November, 06:30"
std::string TimeWords(LocalTime at);                          // "06:30"
// "06:30", and of another day than that of `now` "Tue 1 06:30".
std::string MomentWords(const Words& words, LocalTime at, LocalTime now);
// "02:23 to 06:34"; of one other day "Wed 11 21:35 to 23:13"; over midnight "Sat 7 13:00 to Tue 10 04:20".
std::string SpanWords(const Words& words, LocalTime from, LocalTime to, LocalTime now);
std::string ShortDay(const Words& words, Date day);  // "Tue 1"
// When nobody watched a probe whose next word was due then; of three moments as they are shown.
std::string BegunUnwatchedWords(const Words& words, const std::string& last, const std::string& from,
                                const std::string& to);

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

// Whether an alarm of this kind has a figure of now, with a band to keep.
bool HasFigure(rules::AlarmKind kind);
// Whether it keeps how far air and wheels came: what has a figure, and a door that a contact tells of where wheels lie.
bool HasFurthest(const rules::Alarm& alarm);
std::string AlarmFigure(const Words& words, rules::AlarmKind kind, double value);  // "15.9 °C", "2600 ppm"
// "16200 ppm"; of what nobody knows now "not known now, last 16200 ppm". Empty: it is of no gas, or nothing was said.
std::string GasFigure(const Words& words, const Alarm& alarm);
// "Urgent: " before what is said of gas that is.
std::string WithUrgency(const Words& words, const Alarm& alarm, const std::string& said);
// "Its probes: Shelf 12.4 °C, Door 15.0 °C.": each with its figure; empty: none says anything.
std::string ProbesWords(const Words& words, const std::vector<std::pair<std::string, std::string>>& who);
// "250 g", "2.31 kg"
std::string WeightWords(double grams);
std::string LastsWords(const Words& words, std::chrono::minutes lasts);  // "1 h 45 min", "13 h", "21 days"
// "in 1 h 45 to 2 h 45"; "by now" where the span has begun, "in 3 h at the earliest" where it may never come.
std::string MatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest);
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
