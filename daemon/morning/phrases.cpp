#include "daemon/morning/phrases.hpp"

#include <algorithm>

#include "daemon/api/cave_sentence.hpp"
#include "daemon/morning/columns.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/words/alarm_word.hpp"

namespace rindwatch::morning {

using std::chrono::days;

namespace {

std::string AlarmSubject(const Words& words, const Alarm& alarm) {
  if (Asks(alarm.kind, alarm.why)) return words.Say("alarm.asks", {{"cave", alarm.cave}});
  const char* key = alarm.inside || alarm.ends_at ? "sentence.alarm.back" : "sentence.alarm";
  const std::string text = words.Say(key, {{"cave", alarm.cave},
                                           {"what", AlarmWord(words, alarm.kind, alarm.why, alarm.never_left)},
                                           {"time", SinceWords(words, alarm)}});
  // Of what people breathe the figure belongs to it.
  const std::string figure = GasFigure(words, alarm);
  return WithUrgency(words, alarm, figure.empty() ? text : text + " " + Opening(figure) + ".");
}

bool Waits(const List& list) {
  return std::ranges::any_of(list.alarms, [](const Alarm& alarm) { return !alarm.taken && Leads(alarm); });
}

// "Seven lines, 20 minutes."; shorter beside other news.
std::string RoundSubject(const Words& words, const List& list) {
  const auto questions = static_cast<std::size_t>(list.questions);
  if (list.left == 0) return questions > 0 ? words.Count("round.questions", questions) : std::string{};
  const std::string lines = words.Count("morning.lines", static_cast<std::size_t>(list.left));
  if (questions > 0) {
    return words.Count("morning.sum questions", questions,
                       {{"lines", lines}, {"minutes", MinutesWords(words, list.minutes)}});
  }
  const std::string minutes = !Waits(list) ? words.Count("round.minutes", static_cast<std::size_t>(list.minutes))
                                           : MinutesWords(words, list.minutes);
  return words.Say("morning.sum", {{"lines", lines}, {"minutes", minutes}});
}

// "Next: Tuesday, A1 and A2."
std::string NextSubject(const Words& words, const List& list) {
  if (list.next.empty()) return {};
  const Date day = list.next.front().day;
  std::vector<std::string> places;
  for (const NextLine& next : list.next) {
    if (next.day == day && std::ranges::find(places, next.place) == places.end()) places.push_back(next.place);
  }
  std::string named = places.front();
  constexpr std::size_t kMost = 3;
  if (places.size() > kMost) {
    const auto more = words.Count("morning.more places", places.size() - 1);
    named = words.Say("morning.and", {{"list", places.front()}, {"last", more}});
  } else if (places.size() > 1) {
    const std::string last = places.back();
    places.pop_back();
    named = words.Say("morning.and", {{"list", Join(places, ", ")}, {"last", last}});
  }
  const std::string when = day == list.day ? words.Say("day.today") : FarDay(words, day, list.day);
  return words.Say("round.next", {{"day", when}, {"place", named}});
}

}  // namespace

namespace {

// The last comma that parts of a sentence lie on both sides of; what stands in brackets is one part.
std::size_t LastPart(const std::string& text) {
  for (std::size_t at = text.rfind(", "); at != std::string::npos && at > 0; at = text.rfind(", ", at - 1)) {
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(at);
    if (std::count(text.begin(), end, '(') == std::count(text.begin(), end, ')')) return at;
  }
  return std::string::npos;
}

}  // namespace

std::string ShortSubject(std::string text, std::size_t most) {
  while (WidthOf(text) > most) {
    // A figure has its point without a space behind it.
    const std::size_t sentence = text.rfind(". "), part = LastPart(text);
    const bool in_it = part != std::string::npos && (sentence == std::string::npos || part > sentence);
    const bool fits_without = sentence != std::string::npos && WidthOf(text.substr(0, sentence + 1)) <= most;
    // Of the last sentence part by part as long as that helps; else all of it.
    if (in_it && (sentence == std::string::npos || fits_without))
      text = text.substr(0, part) + ".";
    else if (sentence != std::string::npos)
      text.resize(sentence + 1);
    else
      return text;
  }
  return text;
}

std::string SubjectWords(const Words& words, const List& list) {
  constexpr std::size_t kMostNamed = 4;
  std::vector<std::string> parts;
  std::size_t named = 0;
  const auto add_alarms = [&](auto which) {
    for (const Alarm& alarm : list.alarms)
      if (which(alarm) && named++ < kMostNamed) parts.push_back(AlarmSubject(words, alarm));
  };
  // People come first, also where somebody sees to it; the others as the list has them.
  const auto people = [](const Alarm& alarm) { return alarm.of_people && alarm.acts; };
  add_alarms(people);
  add_alarms([&](const Alarm& alarm) { return !people(alarm) && (alarm.of_people || (!alarm.taken && Leads(alarm))); });
  const bool nothing = list.left == 0 && list.questions == 0 && !list.barred.Any();
  if (nothing) {
    parts.push_back(NothingWords(words, list));
    parts.push_back(NextSubject(words, list));
  } else {
    parts.push_back(RoundSubject(words, list));
    if (list.barred.Any()) parts.push_back(BarredWords(words, list.barred));
  }
  // Somebody sees to what is taken.
  add_alarms([](const Alarm& alarm) { return !alarm.of_people && alarm.taken && Leads(alarm); });
  std::ranges::move(CaveSentences(words, list.news), std::back_inserter(parts));
  // What can wait and somebody has seen is no news each morning.
  add_alarms([](const Alarm& alarm) { return !alarm.hint && !Leads(alarm) && !alarm.taken; });
  if (named > kMostNamed) parts.push_back(words.Count("sentence.alarms more", named - kMostNamed));
  return Join(parts, " ");
}

std::string NothingWords(const Words& words, const List& list) {
  if (list.is_today) return words.Say(list.sections.empty() ? "round.nothing" : "round.done");
  const char* key = list.sections.empty() ? "morning.nothing on" : "morning.done on";
  return words.Say(key, {{"day", LongDay(words, list.day)}});
}

std::string DateWords(const Words& words, const List& list) {
  const std::string day = LongDay(words, list.day);
  const bool now = !list.expected && std::chrono::floor<days>(list.at) == list.day;
  return now ? words.Say("morning.at", {{"day", day}, {"time", TimeWords(list.at)}}) : day;
}

std::string EarlyWords(const Words& words, const Early& early, Date today) {
  std::vector<CareKind> kinds = early.kinds;
  std::string cared = CaredWords(words, {kinds.back()});
  kinds.pop_back();
  if (!kinds.empty()) cared = words.Say("morning.and", {{"list", CaredWords(words, kinds)}, {"last", cared}});
  return words.Say("morning.early",
                   {{"place", early.place}, {"cared", cared}, {"day", NearDay(words, early.due, today)}});
}

std::string ComingWords(const Words& words, const List& list) {
  std::vector<std::string> parts;
  if (list.tomorrow)
    parts.push_back(words.Say("morning.tomorrow", {{"minutes", MinutesWords(words, list.tomorrow->minutes)}}));
  if (list.busiest) {
    parts.push_back(words.Say("morning.busiest",
                              {{"day", FarDay(words, list.busiest->day, list.day)},
                               {"minutes", MinutesWords(words, list.busiest->minutes)},
                               {"care", words.Say("care." + std::string(rules::ToText(list.busiest->kinds.front())))},
                               {"place", list.busiest->place}}));
  }
  return Join(parts, " ");
}

}  // namespace rindwatch::morning
