#include "daemon/morning/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "daemon/morning/columns.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/words/alarm_word.hpp"

namespace rindwatch::morning {

namespace {

// Where things stand, by the first column or, right-aligned, the last.
struct Layout {
  std::size_t width, place_width, care, care_width, count_ends, lot, lot_width, minutes_end, note, gloves;
  std::size_t figures, items, when;  // of caves; of an alarm
  std::size_t next_place, next_care, next_count_ends, next_minutes_end;
  bool what_below;  // the wheels of a line stand under it
};
constexpr Layout kSheet{kWidth, 9, 11, 14, 27, 31, 33, 70, 27, 42, 27, 20, 42, 11, 19, 35, 45, false};
// As much as a phone shows.
constexpr Layout kPhone{38, 8, 10, 14, 27, 12, 27, 38, 12, 10, 23, 4, 6, 8, 16, 31, 38, true};
constexpr std::size_t kPlace = 1;
constexpr std::size_t kCarePadding = 3;  // between a question and its wheels

std::string Across(const Layout& at, std::size_t column, std::string_view text) {
  return Row().At(column, text, at.width - column + 1).Text();
}

// A name too long for its column stands on a row of its own.
std::string PlaceRow(const Layout& at, const std::string& place, Row& row) {
  if (WidthOf(place) <= at.place_width) {
    row.At(kPlace, place, at.place_width);
    return {};
  }
  return Across(at, kPlace, place);
}

std::string LineText(const Layout& at, const Words& words, const Line& line, Date today) {
  Row row;
  const std::string above = PlaceRow(at, line.place, row);
  row.At(at.care, CareWords(words, line), at.care_width).To(at.count_ends, std::to_string(line.count));
  if (!at.what_below) row.At(at.lot, WhatWords(words, line), at.lot_width);
  if (line.minutes > 0) row.To(at.minutes_end, words.Say("minutes", {{"minutes", std::to_string(line.minutes)}}));
  std::string text = above + row.Text();
  if (at.what_below) text += Across(at, at.lot, WhatWords(words, line));
  if (const std::string notes = NoteWords(words, line, today); !notes.empty())
    text += Row().At(at.note, line.late_since ? ">" : "", 1).At(at.note + 2, notes, at.width - at.note - 1).Text();
  return text;
}

std::string QuestionText(const Layout& at, const Words& words, const Question& question) {
  Row row;
  const std::string above = PlaceRow(at, question.place, row);
  const std::string what = WhatWords(words, question);
  const std::size_t after = at.care + WidthOf(question.text) + kCarePadding;
  if (after + WidthOf(what) > at.width + 1) {
    row.At(at.care, question.text, at.width - at.care + 1);
    return above + row.Text() + Across(at, at.care + 2, what);
  }
  row.At(at.care, question.text, at.width).At(after, what, at.width);
  return above + row.Text();
}

std::string SectionText(const Layout& at, const Words& words, const Section& section, bool first, Date today) {
  const std::string title = section.marked ? words.Say("round.marked last") : RindWords(words, section.rind);
  std::string text;
  if (first || section.change.empty()) {
    text = Across(at, at.care, title);
  } else {
    const std::string change =
        words.Say("morning.change", {{"what", ChangeWords(words, section.change)}, {"title", title}});
    text = Row().At(kPlace, "===", at.place_width).At(at.care, change, at.width - at.care + 1).Text();
  }
  for (const Entry& entry : section.entries)
    text += entry.line ? LineText(at, words, *entry.line, today) : QuestionText(at, words, *entry.question);
  return text;
}

std::string RoundText(const Layout& at, const Words& words, const List& list) {
  std::string text;
  for (const Section& section : list.sections)
    text += SectionText(at, words, section, &section == &list.sections.front(), list.day);
  if (list.left > 0) {
    text += Row().To(at.minutes_end, "======").Text();
    const bool changes =
        std::ranges::any_of(list.sections, [](const Section& section) { return rules::TakesTime(section.change); });
    Row sum;
    if (changes) sum.At(at.gloves, words.Say("round.gloves counted"), at.width);
    text += sum.To(at.minutes_end, words.Say("minutes", {{"minutes", std::to_string(list.minutes)}})).Text();
  }
  return text;
}

// A label beside the first of what it speaks of; where there is no room, above.
std::string Labelled(const Layout& at, std::string& label, Row& row) {
  constexpr std::size_t kText = 4;
  const std::string said = std::exchange(label, {});
  if (said.empty()) return {};
  if (at.what_below) return Across(at, kText, said);
  row.At(kText, said, at.items - kText - 1);
  return {};
}

std::string TouchedText(const Layout& at, const Alarm::Touched& touched, std::string& label) {
  const std::string what = fmt::format("{} {}, {}", touched.count, touched.what, touched.place);
  Row row;
  const std::string above = Labelled(at, label, row);
  // A name that breaks would be torn over the time beside it.
  const bool beside = !touched.when.empty() && !at.what_below && WidthOf(what) < at.when - at.items;
  row.At(at.items, what, (beside ? at.when - 1 : at.width + 1) - at.items);
  if (beside) row.At(at.when, touched.when, at.width - at.when + 1);
  const std::string below = beside ? "" : Across(at, at.when, touched.when);
  return above + row.Text() + (touched.when.empty() ? "" : below);
}

// Told before this one in a list, and what is to be done first is the same; null: none is.
const Alarm* WithSameSteps(const std::vector<const Alarm*>& told, const Alarm& alarm) {
  const auto same = std::ranges::find_if(
      told, [&](const Alarm* one) { return (!one->taken || one->of_people) && one->first == alarm.first; });
  return same == told.end() || alarm.first.empty() ? nullptr : *same;
}

// `alarms` are told before it.
std::string AlarmText(const Layout& at, const Words& words, const Alarm& alarm,
                      const std::vector<const Alarm*>& alarms) {
  constexpr std::size_t kText = 4;
  std::string text = Row()
                         .At(1, Leads(alarm) ? "!!" : "", 2)
                         .At(kText, WithUrgency(words, alarm, AlarmWords(words, alarm)), at.width - kText + 1)
                         .Text();
  // What can wait is told once; for whoever took it a line a day is enough.
  if (alarm.taken && CanWait(alarm.kind, alarm.why)) return text + Across(at, kText, TakenWords(words, alarm));
  if (!alarm.who.empty()) text += Across(at, kText, alarm.who);
  for (const std::string& fact : alarm.facts) text += Across(at, kText, fact);
  text += Across(at, kText, TakenWords(words, alarm));
  const bool dark = alarm.kind == rules::AlarmKind::kPowerGone;
  // The label's column is narrow: under which condition stands above it.
  const bool timed = std::ranges::any_of(alarm.touched, [](const Alarm::Touched& one) { return !one.when.empty(); });
  if (dark && timed) text += Across(at, kText, words.Say("morning.if dark"));
  std::string label = words.Say("alarm.it matters");
  for (const Alarm::Touched& touched : alarm.touched) text += TouchedText(at, touched, label);
  // Whoever took it has read them; of gas everybody who comes by has to.
  if (alarm.taken && !alarm.of_people) return text;
  label = words.Say("alarm.first");
  if (const Alarm* const same = WithSameSteps(alarms, alarm)) {
    Row row;
    text += Labelled(at, label, row);
    const std::string as =
        same->cave == alarm.cave ? words.Say("alarm.first.above") : words.Say("alarm.first.as", {{"cave", same->cave}});
    return text + row.At(at.items, as, at.width - at.items + 1).Text();
  }
  for (std::size_t i = 0; i < alarm.first.size(); ++i) {
    Row row;
    text += Labelled(at, label, row);
    row.At(at.items, std::to_string(i + 1), 2).At(at.items + 3, alarm.first[i], at.width - at.items - 2);
    text += row.Text();
  }
  return text;
}

// "22:10", and of what began before `dated_before` "Tuesday 14:10".
std::string BeganWords(const Words& words, LocalTime at, LocalTime dated_before, Date today) {
  std::string time = TimeWords(at);
  if (at >= dated_before) return time;
  return FarDay(words, std::chrono::floor<std::chrono::days>(at), today) + " " + time;
}

std::string PastText(const Layout& at, std::string_view title, const Words& words, const std::vector<PastLine>& past,
                     LocalTime dated_before, Date today) {
  if (past.empty()) return {};
  std::string text = Across(at, 1, title);
  for (const PastLine& line : past) {
    Row row;
    text += PlaceRow(at, BeganWords(words, line.at, dated_before, today), row);
    text += row.At(at.care, line.text, at.width - at.care + 1).Text();
  }
  return text;
}

// What began while it was still evening is not of the night.
const char* NightKey(const List& list) {
  constexpr std::chrono::hours kNight{21};
  const LocalTime night = LocalTime{list.day - std::chrono::days{1}} + kNight;
  const bool of_evening = std::ranges::any_of(list.night, [&](const PastLine& line) { return line.at < night; });
  return of_evening ? "morning.night and evening" : "morning.night";
}

std::string BringText(const Layout& at, const Words& words, const Bring& bring) {
  const std::vector<std::string> parts = BringWords(words, bring);
  if (parts.empty()) return {};
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Row row;
    if (i == 0) row.At(kPlace, words.Say("bring"), at.place_width);
    text += row.At(at.care, parts[i] + (i + 1 < parts.size() ? ";" : ""), at.width - at.care + 1).Text();
  }
  return text;
}

std::string CaveText(const Layout& at, const Words& words, const Cave& cave, Date today) {
  Row row;
  const std::string above = PlaceRow(at, cave.name, row);
  const std::string state = StateWords(words, cave), figures = FigureWords(words, cave, today);
  const std::size_t room = at.figures - at.care - 1;
  // What of it is not watched goes on into the column of the figures.
  if (cave.state == rules::CaveState::kNotWatched && WidthOf(state) > room) {
    row.At(at.care, Join({state, figures}, "; "), at.width - at.care + 1);
    return above + row.Text();
  }
  row.At(at.care, state, room);
  row.At(at.figures, figures, at.width - at.figures + 1);
  return above + row.Text();
}

std::string NothingText(const Layout& at, const Words& words, const List& list) {
  std::string said = NothingWords(words, list);
  for (const Early& early : list.early) said += " " + EarlyWords(words, early, list.day);
  std::string text = Across(at, 1, said);
  if (list.next.empty()) return text;
  text += "\n";
  for (const NextLine& next : list.next) {
    Row row;
    row.At(1, ShortDay(words, next.day), at.next_place - 2)
        .At(at.next_place, next.place, at.next_care - at.next_place - 1)
        .At(at.next_care, KindWords(words, next.kinds), at.care_width);
    row.To(at.next_count_ends, std::to_string(next.count));
    if (next.minutes > 0)
      row.To(at.next_minutes_end, words.Say("minutes", {{"minutes", std::to_string(next.minutes)}}));
    text += row.Text();
  }
  return text;
}

std::string AheadText(const Layout& at, const Words& words, const List& list) {
  std::string text = ComingWords(words, list);
  // A long round may be cut short; who has an alarm to see to wants to know.
  constexpr int kLong = 25;
  if (list.minutes > kLong) text += (text.empty() ? "" : " ") + words.Say("morning.little time");
  return text.empty() ? text : Across(at, 1, text);
}

std::string BodyAt(const Layout& at, const Words& words, const List& list) {
  std::vector<std::string> blocks{Across(at, 1, DateWords(words, list))};
  std::string said;
  if (list.trial) said += Across(at, 1, words.Say("told.trial.plain") + ".");
  if (list.expected) said += Across(at, 1, words.Say("morning.expected"));
  for (const std::string& trouble : list.troubles) said += Across(at, 1, trouble);
  blocks.push_back(said);
  std::vector<const Alarm*> told;
  const auto add_alarms = [&](auto which) {
    for (const Alarm& alarm : list.alarms) {
      if (!which(alarm)) continue;
      blocks.push_back(AlarmText(at, words, alarm, told));
      told.push_back(&alarm);
    }
  };
  add_alarms(Leads);
  add_alarms([](const Alarm& alarm) { return alarm.hint; });
  const LocalTime evening = LocalTime{list.day - std::chrono::days{1}} + kEvening, midnight = LocalTime{list.day};
  blocks.push_back(PastText(at, words.Say("morning.before"), words, list.before, evening, list.day));
  blocks.push_back(PastText(at, words.Say(NightKey(list)), words, list.night, evening, list.day));
  blocks.push_back(PastText(at, words.Say("morning.since"), words, list.since, midnight, list.day));
  if (list.left > 0) blocks.push_back(BringText(at, words, list.bring));
  const bool nothing = list.left == 0 && list.questions == 0 && !list.barred.Any();
  if (nothing && list.sections.empty()) {
    blocks.push_back(NothingText(at, words, list));
  } else {
    blocks.push_back(RoundText(at, words, list));
  }
  std::string ready;
  for (const std::string& turn : list.ready) ready += Across(at, 1, turn);
  blocks.push_back(ready);
  std::string caves;
  for (const Cave& cave : list.caves) caves += CaveText(at, words, cave, list.day);
  blocks.push_back(caves);
  add_alarms([](const Alarm& alarm) { return !alarm.hint && !Leads(alarm); });
  if (!nothing) blocks.push_back(AheadText(at, words, list));
  std::string text;
  for (const std::string& block : blocks) {
    if (!block.empty()) text += (text.empty() ? "" : "\n") + block;
  }
  return text;
}

}  // namespace

std::string Subject(const Words& words, const List& list) { return SubjectWords(words, list); }

std::string Body(const Words& words, const List& list) { return BodyAt(kSheet, words, list); }
std::string BodyForPhone(const Words& words, const List& list) { return BodyAt(kPhone, words, list); }

std::string Text(const Words& words, const List& list) {
  return words.Say("morning.subject", {{"subject", Subject(words, list)}}) + "\n\n" + Body(words, list);
}

}  // namespace rindwatch::morning
