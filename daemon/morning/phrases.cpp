#include "daemon/morning/phrases.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/cadence_word.hpp"
#include "daemon/api/cave_sentence.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::morning {

using rules::CareState;
using std::chrono::days;

namespace {

std::string Join(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

// The first letter large, for a word that opens a sentence. Words of other scripts stay as they are.
std::string Opening(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string Weekday(const Words& words, Date day) {
  return words.Say(fmt::format("weekday.{}", rules::WeekdayOf(day).iso_encoding()));
}

std::string LongDay(const Words& words, Date day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {} {}", Weekday(words, day), static_cast<unsigned>(date.day()),
                     words.Say(fmt::format("month.{}", static_cast<unsigned>(date.month()))));
}

// A weekday by its name while that says which one is meant.
std::string FarDay(const Words& words, Date day, Date today) {
  const auto away = day > today ? day - today : today - day;
  return away < days{7} ? Weekday(words, day) : LongDay(words, day);
}

std::string NearDay(const Words& words, Date day, Date today) {
  if (day == today) return words.Say("day.today");
  if (day == today + days{1}) return words.Say("day.tomorrow");
  return FarDay(words, day, today);
}

std::string Minutes(const Words& words, int minutes) {
  return words.Say("minutes", {{"minutes", std::to_string(minutes)}});
}

// "04:20", and of another day "Sat 28 04:20".
std::string SinceWords(const Words& words, const Alarm& alarm) {
  return MomentWords(words, alarm.since, alarm.since + alarm.lasts);
}

std::string AlarmSubject(const Words& words, const Alarm& alarm) {
  return words.Say("sentence.alarm", {{"cave", alarm.cave},
                                      {"what", words.Say("alarm." + std::string(rules::ToText(alarm.kind)))},
                                      {"time", SinceWords(words, alarm)}});
}

std::vector<std::string> CaveSubjects(const Words& words, const std::vector<Cave>& caves) {
  std::vector<CaveNews> news;
  for (const Cave& cave : caves) {
    if (!cave.as_around) news.push_back({cave.name, cave.state, cave.of_air, cave.side});
  }
  return CaveSentences(words, news);
}

bool Waits(const List& list) {
  return std::ranges::any_of(list.alarms, [](const Alarm& alarm) { return !alarm.taken; });
}

// "Seven lines, 20 minutes."; shorter beside other news.
std::string RoundSubject(const Words& words, const List& list) {
  const auto questions = static_cast<std::size_t>(list.questions);
  if (list.left == 0) return questions > 0 ? words.Count("round.questions", questions) : std::string{};
  const std::string lines = words.Count("morning.lines", static_cast<std::size_t>(list.left));
  if (questions > 0) {
    return words.Count("morning.sum questions", questions,
                       {{"lines", lines}, {"minutes", Minutes(words, list.minutes)}});
  }
  const std::string minutes = !Waits(list) ? words.Count("round.minutes", static_cast<std::size_t>(list.minutes))
                                           : Minutes(words, list.minutes);
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
    if (line.day > 0) parts.push_back(words.Say("day.number", {{"day", std::to_string(line.day)}}));
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
  for (const Line::Found& found : line.found_at)
    parts.push_back(words.Say("round.found at", {{"what", words.Say("fault." + found.what)}, {"place", found.place}}));
  return Join(parts, "; ");
}

bool IsOfAir(rules::AlarmKind kind) { return kind == rules::AlarmKind::kTooWarm || kind == rules::AlarmKind::kTooCold; }

bool IsGas(rules::AlarmKind kind) {
  return kind == rules::AlarmKind::kCarbonDioxide || kind == rules::AlarmKind::kAmmonia;
}

// Humidity in whole points; above 93 no probe is that exact.
std::string Humidity(double percent) { return percent > 93 ? "93+ %" : fmt::format("{:.0f} %", percent); }
std::string Temperature(double celsius) { return fmt::format("{:.1f} °C", celsius); }
// "11", "10.5"
std::string Bound(double value) { return fmt::format("{}", value); }

// "16 g salt in 500 mL, 8 mL cider"
std::string MixingWords(const Words& words, const Wash& wash) {
  const std::string water = words.Say("bring.ml", {{"ml", std::to_string(wash.water_ml)}});
  std::string text = wash.salt_grams > 0
                         ? words.Say("bring.salt", {{"salt", std::to_string(wash.salt_grams)}, {"water", water}})
                         : water;
  for (const auto& [name, ml] : wash.additions)
    text += ", " + words.Say("bring.addition", {{"ml", std::to_string(ml)}, {"name", name}});
  return text;
}

// "B1", "B1, B2", "B1 to B6"
std::string PlacesWords(const Words& words, std::vector<std::string> places) {
  constexpr std::size_t kMost = 3;
  std::vector<std::string> each;
  for (std::string& place : places) {
    if (std::ranges::find(each, place) == each.end()) each.push_back(std::move(place));
  }
  if (each.size() <= kMost) return Join(each, ", ");
  return words.Say("span", {{"low", each.front()}, {"high", each.back()}});
}

// Those alike are said once; for whom, where there are others that could be taken for them.
std::string WashWords(const Words& words, const std::vector<Wash>& washes) {
  std::vector<std::pair<std::string, std::vector<const Wash*>>> mixings;
  for (const Wash& wash : washes) {
    const std::string mixing = MixingWords(words, wash);
    const auto known = std::ranges::find(mixings, mixing, [](const auto& one) { return one.first; });
    if (known == mixings.end()) {
      mixings.push_back({mixing, {&wash}});
    } else {
      known->second.push_back(&wash);
    }
  }
  std::vector<std::string> parts;
  for (auto& [text, alike] : mixings) {
    const auto count = alike.size();
    if (count == 2) text = words.Say("bring.twice") + " " + text;
    if (count > 2) text = words.Say("bring.times", {{"count", std::to_string(count)}}) + " " + text;
    std::vector<std::string> places;
    for (const Wash* wash : alike) places.push_back(PlacesWords(words, wash->places));
    if (mixings.size() > 1) text = words.Say("bring.for", {{"mixing", text}, {"places", Join(places, ", ")}});
    parts.push_back(text);
  }
  if (parts.empty()) return {};
  return words.Say(parts.size() > 1 ? "morning.boiled.all" : "morning.boiled", {{"washes", Join(parts, "; ")}});
}

bool IsBrush(rules::Tool tool) {
  return tool == rules::Tool::kSoftBrush || tool == rules::Tool::kBrush || tool == rules::Tool::kOwnBrush;
}

std::string ToolWords(const Words& words, const Bring& bring, rules::Tool tool) {
  if (tool == rules::Tool::kOwnBrush && !bring.own_brush_for.empty())
    return words.Say("morning.own brush", {{"place", bring.own_brush_for}});
  return words.Say("tool." + std::string(rules::ToText(tool)));
}

}  // namespace

std::string TimeWords(LocalTime at) {
  const std::chrono::hh_mm_ss clock{at - std::chrono::floor<days>(at)};
  return fmt::format("{:02}:{:02}", clock.hours().count(), clock.minutes().count());
}

std::string MomentWords(const Words& words, LocalTime at, LocalTime now) {
  const Date day = std::chrono::floor<days>(at);
  return day == std::chrono::floor<days>(now) ? TimeWords(at) : ShortDay(words, day) + " " + TimeWords(at);
}

std::string ShortDay(const Words& words, Date day) {
  return fmt::format("{} {}", words.Say(fmt::format("weekday.short.{}", rules::WeekdayOf(day).iso_encoding())),
                     static_cast<unsigned>(std::chrono::year_month_day{day}.day()));
}

std::string SubjectWords(const Words& words, const List& list) {
  std::vector<std::string> parts;
  const auto add_alarms = [&](bool taken) {
    for (const Alarm& alarm : list.alarms)
      if (alarm.taken == taken) parts.push_back(AlarmSubject(words, alarm));
  };
  add_alarms(false);
  const bool nothing = list.left == 0 && list.questions == 0;
  if (nothing) {
    parts.push_back(NothingWords(words, list));
    parts.push_back(NextSubject(words, list));
  } else {
    parts.push_back(RoundSubject(words, list));
  }
  // Somebody sees to what is taken.
  add_alarms(true);
  // One event is told once: what rings says more.
  if (list.alarms.empty()) std::ranges::move(CaveSubjects(words, list.caves), std::back_inserter(parts));
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

std::string KindWords(const Words& words, const std::vector<CareKind>& kinds) {
  std::vector<std::string> parts;
  for (const CareKind kind : kinds) parts.push_back(words.Say("care." + std::string(rules::ToText(kind))));
  return Join(parts, ", ");
}

std::string CaredWords(const Words& words, const std::vector<CareKind>& kinds) {
  std::vector<std::string> parts;
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
  if (line.state == CareState::kNotDone) return words.Say("round.not done");
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
  if (line.late_since) add(true, words.Say("round.due", {{"day", FarDay(words, *line.late_since, today)}}));
  if (line.state != CareState::kDone) add(!line.done_kinds.empty(), CaredWords(words, line.done_kinds));
  add(!line.found_at.empty(), FoundWords(words, line));
  add(!line.look_first.empty(), LookWords(words, line));
  add(line.new_cadence.has_value(), NewCadenceWords(words, line));
  add(line.cut > 0, words.Say("round.cut", {{"count", std::to_string(line.cut)}}));
  add(line.two_people, words.Say("round.two people"));
  add(line.away, words.Say("round.away"));
  add(line.evening, words.Say("round.evening"));
  add(line.past_plan, words.Say("round.past"));
  add(!line.reason.empty(), line.reason);
  return Join(parts, ". ");
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

bool HasFigure(rules::AlarmKind kind) {
  using enum rules::AlarmKind;
  return IsOfAir(kind) || kind == kTooDry || kind == kTooDamp || IsGas(kind);
}

std::string AlarmFigure(const Words& words, rules::AlarmKind kind, double value) {
  if (IsOfAir(kind)) return Temperature(value);
  if (IsGas(kind)) return words.Say("figure.ppm", {{"value", fmt::format("{:.0f}", value)}});
  return Humidity(value);
}

std::string LastsWords(const Words& words, std::chrono::minutes span) {
  const auto hours = span.count() / 60, minutes = span.count() % 60;
  if (hours >= 48) return words.Count("days", static_cast<std::size_t>((span.count() + 720) / 1440));
  if (hours == 0) return Minutes(words, static_cast<int>(minutes));
  // Of half a day or more nobody counts the minutes.
  if (minutes == 0 || hours >= 12) return words.Say("hours", {{"hours", std::to_string(hours)}});
  return words.Say("hours.minutes", {{"hours", std::to_string(hours)}, {"minutes", std::to_string(minutes)}});
}

std::string MatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest) {
  // A forecast is no railway's: quarters of an hour, and from six hours on whole ones.
  const auto rounded = [](rules::Millis span, bool up) {
    const std::chrono::minutes step = span < std::chrono::hours{6} ? std::chrono::minutes{15} : std::chrono::hours{1};
    const auto steps = span.count() / rules::Millis{step}.count() + (up ? 1 : 0);
    return step * steps;
  };
  const auto low = rounded(soonest, false);
  if (low.count() == 0 && (!latest || latest->count() == 0)) return words.Say("matter.now");
  if (!latest) return words.Say("matter.never", {{"time", LastsWords(words, low)}});
  const std::string high = LastsWords(words, rounded(*latest, true));
  if (low.count() == 0) return words.Say("matter.within", {{"time", high}});
  return words.Say("matter.in", {{"time", words.Say("span", {{"low", LastsWords(words, low)}, {"high", high}})}});
}

std::string AlarmWords(const Words& words, const Alarm& alarm) {
  std::string text = words.Say("morning.alarm", {{"cave", alarm.cave},
                                                 {"what", words.Say("alarm." + std::string(rules::ToText(alarm.kind)))},
                                                 {"time", SinceWords(words, alarm)},
                                                 {"lasts", LastsWords(words, alarm.lasts)}});
  std::vector<std::string> figures;
  if (alarm.value) figures.push_back(AlarmFigure(words, alarm.kind, *alarm.value));
  if (alarm.band && !IsGas(alarm.kind)) {
    const auto band = words.Say("span", {{"low", Bound(alarm.band->low)}, {"high", Bound(alarm.band->high)}});
    const bool inside = *alarm.value >= alarm.band->low && *alarm.value <= alarm.band->high;
    figures.push_back(words.Say(!inside         ? "alarm.keep"
                                : alarm.was_out ? "morning.back within"
                                                : "morning.still within",
                                {{"band", band}}));
  }
  return figures.empty() ? text : text + " " + Opening(Join(figures, ", ")) + ".";
}

std::string TakenWords(const Words& words, const Alarm& alarm) {
  if (!alarm.taken) return words.Say("morning.nobody");
  return alarm.taken_by.empty() ? words.Say("morning.taken")
                                : words.Say("morning.taken by", {{"name", alarm.taken_by}});
}

std::vector<std::string> BringWords(const Words& words, const Bring& bring) {
  std::vector<std::string> things;
  if (bring.cloths > 0) things.push_back(words.Count("bring.cloths", static_cast<std::size_t>(bring.cloths)));
  for (const rules::Tool tool : bring.tools) {
    if (IsBrush(tool)) things.push_back(ToolWords(words, bring, tool));
  }
  if (bring.mask) things.push_back(words.Say("morning.mask"));
  for (const rules::Tool tool : bring.tools) {
    if (!IsBrush(tool)) things.push_back(ToolWords(words, bring, tool));
  }
  if (bring.two_people) things.push_back(words.Say("bring.two people"));
  std::vector<std::string> parts;
  for (const std::string& part : {WashWords(words, bring.washes), Join(things, ", ")}) {
    if (!part.empty()) parts.push_back(part);
  }
  return parts;
}

std::string StateWords(const Words& words, const Cave& cave) {
  const std::string state = words.Say("state." + std::string(rules::ToText(cave.state)));
  if (cave.state != rules::CaveState::kDrifting) return state;
  return state + " " + SideWord(words, cave.of_air, cave.side);
}

std::string FigureWords(const Words& words, const Cave& cave) {
  std::string air = cave.temperature ? Temperature(*cave.temperature) : std::string{};
  if (cave.temperature && cave.trend != 0)
    air += " " + words.Say(cave.trend > 0 ? "morning.rising" : "morning.falling");
  const std::string damp = cave.humidity ? Humidity(*cave.humidity) : std::string{};
  std::string text;
  if (cave.state == rules::CaveState::kDrifting) {
    text = cave.of_air ? air : damp;
    if (cave.out_by) text = Join({text, words.Say("morning.out by", {{"time", TimeWords(*cave.out_by)}})}, ", ");
    if (cave.has_lid && !cave.of_air && cave.side > 0) text = Join({text, words.Say("morning.open lid")}, ". ");
  } else if (cave.state == rules::CaveState::kOutOfBand) {
    const char* side = cave.side > 0 ? (cave.of_air ? "warm" : "damp") : (cave.of_air ? "cold" : "dry");
    const std::string too = words.Say(std::string("side.too ") + side);
    text = Join({too, Join({cave.of_air ? air : damp, cave.of_air ? damp : air}, "; ")}, ": ");
  } else if (cave.state == rules::CaveState::kNotWatched) {
    text = cave.has_lid ? words.Say("morning.look at lid") : std::string{};
  } else {
    text = Join({air, damp}, ", ");
  }
  for (const auto& [from, to] : cave.unknown)
    text = Join({text, words.Say("morning.unknown", {{"from", TimeWords(from)}, {"to", TimeWords(to)}})}, "; ");
  return text;
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
    parts.push_back(words.Say("morning.tomorrow", {{"minutes", Minutes(words, list.tomorrow->minutes)}}));
  if (list.busiest) {
    parts.push_back(words.Say("morning.busiest",
                              {{"day", FarDay(words, list.busiest->day, list.day)},
                               {"minutes", Minutes(words, list.busiest->minutes)},
                               {"care", words.Say("care." + std::string(rules::ToText(list.busiest->kinds.front())))},
                               {"place", list.busiest->place}}));
  }
  return Join(parts, " ");
}

}  // namespace rindwatch::morning
