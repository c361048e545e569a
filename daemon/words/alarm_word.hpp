// How an alarm is called in words, and what to do first.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "daemon/words/words.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

// A battery that will be empty some day leads nothing while anything else of weight stands, nor does a band that moved.
inline bool CanWait(rules::AlarmKind kind, rules::Why why) {
  return kind == rules::AlarmKind::kBatteryLow || why == rules::Why::kPlanStep;
}
// The watch only asks whether the door is ajar.
bool Asks(rules::AlarmKind kind, rules::Why why);
// Of one probe of which nothing was known while it lasted.
bool StaysUnknown(rules::AlarmKind kind);
// What of one probe nothing was known while it lasted stays unknown, as a sentence; empty: it hid nothing.
std::string UnknownAfter(const Words& words, rules::AlarmKind kind);
// "humidity 88.5 %": what a stuck probe repeats, or a wet one came to, to the digit. Empty: it is no such alarm.
std::string DoubtWords(const Words& words, const rules::Alarm& alarm);
// "too warm", for behind a cave's name; of what was only asked "door perhaps ajar", of air that never left its band
// "getting warmer".
std::string AlarmWord(const Words& words, rules::AlarmKind kind, rules::Why why, bool never_left);
std::string AlarmWord(const Words& words, const rules::Alarm& alarm);
// What makes it one, with its figure, in a sentence; empty: the band alone, which its head tells, or a step of a plan,
// which stands among the facts.
std::string WhyWords(const Words& words, const rules::Alarm& alarm);
// How far what has no figure of the air came, once it is over: "the mean of the day up by 0.6 degrees". Empty: of any
// other.
std::string MostWords(const Words& words, const rules::Alarm& alarm);
// The same as a sentence of its own: "At worst it cooled at 72 % of its usual pace."
std::string MostSentence(const Words& words, const rules::Alarm& alarm);
// When nobody watched a probe whose next word was due then; of three moments as they are shown.
std::string BegunUnwatchedWords(const Words& words, const std::string& last, const std::string& from,
                                const std::string& to);
// "Its probes: Shelf 12.4 °C, Door 15.0 °C.": each with its figure; empty: none says anything.
std::string ProbesWords(const Words& words, const std::vector<std::pair<std::string, std::string>>& who);
// The steps for what is known, else those of the kind; of both those for this kind of place ("box"), which has a lid or
// a plant or neither, come first.
std::vector<std::string> FirstSteps(const Words& words, rules::AlarmKind kind, rules::Knowing knowing,
                                    std::string_view place);

}  // namespace rindwatch
