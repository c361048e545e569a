#include "daemon/morning/text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/morning/columns.hpp"
#include "daemon/morning/phrases.hpp"

namespace rindwatch::morning {

namespace {

// Where things stand, by the first column or, right-aligned, the last.
constexpr std::size_t kPlace = 1, kPlaceWidth = 9;
constexpr std::size_t kCare = 11, kCareWidth = 14;
constexpr std::size_t kCountEnds = 27;
constexpr std::size_t kLot = 31, kLotWidth = 33;
constexpr std::size_t kMinutesEnd = 70;
constexpr std::size_t kNote = 27;
constexpr std::size_t kCarePadding = 3;  // between a question and its wheels
constexpr std::size_t kState = 11, kStateWidth = 15, kFigures = 27;

// A name too long for its column stands on a row of its own.
std::string PlaceRow(const std::string& place, Row& row) {
  if (WidthOf(place) <= kPlaceWidth) {
    row.At(kPlace, place, kPlaceWidth);
    return {};
  }
  return Indented(kPlace, place);
}

std::string LineText(const Words& words, const Line& line, Date today) {
  Row row;
  const std::string above = PlaceRow(line.place, row);
  row.At(kCare, CareWords(words, line), kCareWidth).To(kCountEnds, std::to_string(line.count));
  row.At(kLot, WhatWords(words, line), kLotWidth);
  if (line.minutes > 0) row.To(kMinutesEnd, words.Say("minutes", {{"minutes", std::to_string(line.minutes)}}));
  std::string text = above + row.Text();
  if (const std::string notes = NoteWords(words, line, today); !notes.empty())
    text += Row().At(kNote, line.late_since ? ">" : "", 1).At(kNote + 2, notes, kWidth - kNote - 1).Text();
  return text;
}

std::string QuestionText(const Words& words, const Question& question) {
  Row row;
  const std::string above = PlaceRow(question.place, row);
  const std::string what = WhatWords(words, question);
  const std::size_t after = kCare + WidthOf(question.text) + kCarePadding;
  if (after + WidthOf(what) > kWidth + 1) {
    row.At(kCare, question.text, kWidth - kCare + 1);
    return above + row.Text() + Indented(kCare + 2, what);
  }
  row.At(kCare, question.text, kWidth).At(after, what, kWidth);
  return above + row.Text();
}

std::string SectionText(const Words& words, const Section& section, bool first, Date today) {
  const std::string title = section.marked ? words.Say("round.marked last") : RindWords(words, section.rind);
  std::string text;
  if (first || section.change.empty()) {
    text = Indented(kCare, title);
  } else {
    const std::string change =
        words.Say("morning.change", {{"what", ChangeWords(words, section.change)}, {"title", title}});
    text = Row().At(kPlace, "===", kPlaceWidth).At(kCare, change, kWidth - kCare + 1).Text();
  }
  for (const Entry& entry : section.entries)
    text += entry.line ? LineText(words, *entry.line, today) : QuestionText(words, *entry.question);
  return text;
}

std::string RoundText(const Words& words, const List& list) {
  std::string text;
  for (const Section& section : list.sections)
    text += SectionText(words, section, &section == &list.sections.front(), list.day);
  if (list.left > 0) {
    text += Row().To(kMinutesEnd, "======").Text();
    const bool changes =
        std::ranges::any_of(list.sections, [](const Section& section) { return !section.change.empty(); });
    Row sum;
    if (changes) sum.At(42, words.Say("round.gloves counted"), kWidth);
    text += sum.To(kMinutesEnd, words.Say("minutes", {{"minutes", std::to_string(list.minutes)}})).Text();
  }
  return text;
}

std::string AlarmText(const Words& words, const Alarm& alarm) {
  constexpr std::size_t kText = 4, kItems = 20, kWhen = 42;
  std::string text = Row().At(1, "!!", 2).At(kText, AlarmWords(words, alarm), kWidth - kText + 1).Text();
  text += Indented(kText, TakenWords(words, alarm));
  std::string label = words.Say("alarm.it matters");
  for (const Alarm::Touched& touched : alarm.touched) {
    const std::string what = fmt::format("{} {}, {}", touched.count, touched.what, touched.place);
    Row row;
    row.At(kText, label, kItems - kText - 1);
    if (touched.when.empty()) {
      row.At(kItems, what, kWidth - kItems + 1);
    } else {
      row.At(kItems, what, kWhen - kItems - 1).At(kWhen, touched.when, kWidth - kWhen + 1);
    }
    text += row.Text();
    label.clear();
  }
  // Whoever took it has read them.
  if (alarm.taken) return text;
  label = words.Say("alarm.first");
  for (std::size_t i = 0; i < alarm.first.size(); ++i) {
    text += Row()
                .At(kText, label, kItems - kText - 1)
                .At(kItems, std::to_string(i + 1), 2)
                .At(kItems + 3, alarm.first[i], kWidth - kItems - 2)
                .Text();
    label.clear();
  }
  return text;
}

std::string NightText(const Words& words, const std::vector<NightLine>& night, Date today) {
  if (night.empty()) return {};
  std::string text = words.Say("morning.night") + "\n";
  for (const NightLine& line : night) {
    const Date day = std::chrono::floor<std::chrono::days>(line.at);
    const std::string when = day + std::chrono::days{1} < today ? ShortDay(words, day) : TimeWords(line.at);
    text += Row().At(kPlace, when, kPlaceWidth).At(kCare, line.text, kWidth - kCare + 1).Text();
  }
  return text;
}

std::string BringText(const Words& words, const Bring& bring) {
  const std::vector<std::string> parts = BringWords(words, bring);
  if (parts.empty()) return {};
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Row row;
    if (i == 0) row.At(kPlace, words.Say("bring"), kPlaceWidth);
    text += row.At(kCare, parts[i] + (i + 1 < parts.size() ? ";" : ""), kWidth - kCare + 1).Text();
  }
  return text;
}

std::string CaveText(const Words& words, const Cave& cave) {
  Row row;
  const std::string above = PlaceRow(cave.name, row);
  row.At(kState, StateWords(words, cave), kStateWidth);
  row.At(kFigures, FigureWords(words, cave), kWidth - kFigures + 1);
  return above + row.Text();
}

std::string NothingText(const Words& words, const List& list) {
  std::string said = NothingWords(words, list);
  for (const Early& early : list.early) said += " " + EarlyWords(words, early, list.day);
  std::string text = Indented(1, said);
  if (list.next.empty()) return text;
  text += "\n";
  for (const NextLine& next : list.next) {
    Row row;
    row.At(1, ShortDay(words, next.day), 9).At(11, next.place, 7).At(19, KindWords(words, next.kinds), kCareWidth);
    row.To(35, std::to_string(next.count));
    if (next.minutes > 0) row.To(45, words.Say("minutes", {{"minutes", std::to_string(next.minutes)}}));
    text += row.Text();
  }
  return text;
}

std::string AheadText(const Words& words, const List& list) {
  std::string text = ComingWords(words, list);
  // A long round may be cut short; who has an alarm to see to wants to know.
  constexpr int kLong = 25;
  if (list.minutes > kLong) text += (text.empty() ? "" : " ") + words.Say("morning.little time");
  return text.empty() ? text : Indented(1, text);
}

}  // namespace

std::string Subject(const Words& words, const List& list) { return SubjectWords(words, list); }

std::string Body(const Words& words, const List& list) {
  std::vector<std::string> blocks{Indented(1, DateWords(words, list))};
  std::string said;
  if (list.trial) said += Indented(1, words.Say("told.trial.plain") + ".");
  if (list.expected) said += Indented(1, words.Say("morning.expected"));
  for (const std::string& trouble : list.troubles) said += Indented(1, trouble);
  blocks.push_back(said);
  for (const Alarm& alarm : list.alarms) blocks.push_back(AlarmText(words, alarm));
  blocks.push_back(NightText(words, list.night, list.day));
  if (list.left > 0) blocks.push_back(BringText(words, list.bring));
  const bool nothing = list.left == 0 && list.questions == 0;
  if (nothing && list.sections.empty()) {
    blocks.push_back(NothingText(words, list));
  } else {
    blocks.push_back(RoundText(words, list));
  }
  std::string caves;
  for (const Cave& cave : list.caves) caves += CaveText(words, cave);
  blocks.push_back(caves);
  if (!nothing) blocks.push_back(AheadText(words, list));
  std::string text;
  for (const std::string& block : blocks) {
    if (!block.empty()) text += (text.empty() ? "" : "\n") + block;
  }
  return text;
}

std::string Text(const Words& words, const List& list) {
  return words.Say("morning.subject", {{"subject", Subject(words, list)}}) + "\n\n" + Body(words, list);
}

}  // namespace rindwatch::morning
