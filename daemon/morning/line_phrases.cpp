#include "daemon/morning/phrases.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/cadence_word.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::morning {

using rules::CareState;

namespace {

std::string LotWords(const Words& words, const std::string& lot, const std::string& family) {
  return lot.empty() ? family : words.Say("round.lot", {{"lot", lot}});
}

std::string LookWords(const Words& words, const Line& line) {
  std::vector<std::string> parts;
  bool dusty = false;
  for (const rules::LookFirst look : line.look_first) {
    parts.push_back(Opening(words.Say("look." + std::string(rules::ToText(look)))));
    dusty |= look == rules::LookFirst::kDusty;
  }
  if (parts.empty()) return {};
  if (dusty) parts.push_back(words.Say("morning.mask on"));
  if (line.kinds.front() == CareKind::kWash) parts.push_back(words.Say("morning.then wash"));
  return Join(parts, " ");
}

std::string NewCadenceWords(const Words& words, const Line& line) {
  if (!line.new_cadence) return {};
  const std::string cadence = CadenceWord(words, line.new_cadence->cadence);
  return words.Say(line.new_cadence->from_tomorrow ? "round.cadence tomorrow" : "round.cadence now",
                   {{"cadence", cadence}});
}

// "2, 6, 7", "1 to 9, 11"
std::string Numbers(const Words& words, std::vector<int> numbers) {
  constexpr std::size_t kRow = 3;  // as many in a row are told by their ends
  std::ranges::sort(numbers);
  std::vector<std::string> parts;
  for (std::size_t i = 0, row = 1; i < numbers.size(); i += row, row = 1) {
    while (i + row < numbers.size() && numbers[i + row] == numbers[i] + static_cast<int>(row)) ++row;
    if (row < kRow) row = 1;
    const std::string first = std::to_string(numbers[i]), last = std::to_string(numbers[i + row - 1]);
    parts.push_back(row == 1 ? first : words.Say("span", {{"low", first}, {"high", last}}));
  }
  return Join(parts, ", ");
}

std::string MarkWords(const Words& words, const Line& line) {
  std::string what = line.mark ? words.Say("fault." + std::string(rules::ToText(*line.mark))) : std::string{};
  if (line.held) what = Join({what, words.Say("round.held")}, ", ");
  return what;
}

// "lot 222, day 1, drying"; which of them, where it is a part of a shelf: "2, 6, 7: mite dust. Look again".
std::string WheelsWords(const Words& words, const Line& line) {
  std::vector<std::string> parts;
  // Wheels with a fault are known by it.
  if (line.numbers.empty() || !line.mark) {
    parts.push_back(LotWords(words, line.lot, line.family));
    const std::string key = line.since ? "day.since." + std::string(rules::ToText(*line.since)) : "day.number";
    if (line.day > 0) parts.push_back(words.Say(key, {{"day", std::to_string(line.day)}}));
    if (line.drying) parts.push_back(words.Say("wheel.drying"));
  }
  parts.push_back(MarkWords(words, line));
  std::string text = Join(parts, ", ");
  if (!line.numbers.empty())
    text = words.Say("round.marked", {{"numbers", Numbers(words, line.numbers)}, {"what", text}});
  return line.mark ? text + ". " + Opening(words.Say("fault.look again")) : text;
}

std::string FoundWords(const Words& words, const Line& line) {
  std::vector<std::string> parts;
  parts.reserve(line.found_at.size());
  for (const Line::Found& found : line.found_at)
    parts.push_back(words.Say("round.found at", {{"what", words.Say("fault." + found.what)}, {"place", found.place}}));
  return Join(parts, "; ");
}

}  // namespace

std::string KindWords(const Words& words, const std::vector<CareKind>& kinds) {
  std::vector<std::string> parts;
  parts.reserve(kinds.size());
  for (const CareKind kind : kinds) parts.push_back(words.Say("care." + std::string(rules::ToText(kind))));
  return Join(parts, ", ");
}

std::string CaredWords(const Words& words, const std::vector<CareKind>& kinds) {
  std::vector<std::string> parts;
  parts.reserve(kinds.size());
  for (const CareKind kind : kinds) parts.push_back(words.Say("cared." + std::string(rules::ToText(kind))));
  return Join(parts, ", ");
}

std::string CareWords(const Words& words, const Line& line) {
  if (!line.care.empty()) return line.state == CareState::kSkipped ? "(" + line.care + ")" : line.care;
  const bool whole = line.state == CareState::kSkipped && line.done_kinds.empty();
  std::vector<CareKind> skipped = whole ? line.kinds : line.skipped_kinds, rest;
  std::ranges::copy_if(line.kinds, std::back_inserter(rest),
                       [&](CareKind kind) { return !rules::Contains(skipped, kind); });
  std::erase_if(skipped, [&](CareKind kind) { return !rules::Contains(line.kinds, kind); });
  const std::string brackets = skipped.empty() ? std::string{} : "(" + KindWords(words, skipped) + ")";
  return Join({brackets, KindWords(words, rest)}, ", ");
}

std::string WhatWords(const Words& words, const Line& line) {
  if (line.state == CareState::kDone) return words.Say("text.done");
  if (line.state == CareState::kRetired) return words.Say("round.retired");
  if (line.state == CareState::kNotDone) return words.Say("morning.not done");
  return WheelsWords(words, line);
}

std::string WhatWords(const Words& words, const Question& question) {
  std::vector<std::string> parts{LotWords(words, question.lot, question.family)};
  if (question.day > 0) parts.push_back(words.Say("day.number", {{"day", std::to_string(question.day)}}));
  const std::string answers = Join(question.answers, " / ");
  return Join({Join(parts, ", "), Opening(answers)}, ". ");
}

std::string NoteWords(const Words& words, const Line& line, Date today) {
  std::vector<std::string> parts;
  const auto add = [&](bool holds, const std::string& text) {
    if (holds) parts.push_back(parts.empty() ? text : Opening(text));
  };
  if (line.barred) add(true, words.Say("round.barred." + std::string(ToText(*line.barred))));
  if (line.late_since) add(true, words.Say("round.due", {{"day", FarDay(words, *line.late_since, today)}}));
  if (line.state != CareState::kDone) add(!line.done_kinds.empty(), CaredWords(words, line.done_kinds));
  add(!line.found_at.empty(), FoundWords(words, line));
  add(!line.look_first.empty(), LookWords(words, line));
  add(line.new_cadence.has_value(), NewCadenceWords(words, line));
  if (line.then)
    add(true, words.Say("round.then",
                        {{"low", fmt::format("{}", line.then->low)}, {"high", fmt::format("{}", line.then->high)}}));
  add(line.cut > 0, words.Say("round.cut", {{"count", std::to_string(line.cut)}}));
  add(line.two_people, words.Say("round.two people"));
  add(line.away, words.Say("round.away"));
  add(line.evening, words.Say("round.evening"));
  add(line.past_plan, words.Say("round.past"));
  add(!line.reason.empty(), line.reason);
  std::string text;
  for (const std::string& part : parts) {
    // What asks has its own end.
    if (!text.empty()) text += text.back() == '?' ? " " : ". ";
    text += part;
  }
  return text;
}

std::string RindWords(const Words& words, rules::RindClass rind) {
  return words.Say("rinds." + std::string(rules::ToText(rind)));
}

std::string ChangeWords(const Words& words, const std::vector<rules::Change>& change) {
  std::vector<std::string> things;
  std::string mask;
  for (const rules::Change what : change) {
    const std::string word = words.Say("change." + std::string(rules::ToText(what)));
    if (what == rules::Change::kMask) {
      mask = word;
    } else {
      things.push_back(word);
    }
  }
  return Join({Join(things, ", "), mask}, "; ");
}

}  // namespace rindwatch::morning
