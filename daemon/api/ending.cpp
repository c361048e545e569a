#include "daemon/api/ending.hpp"

#include <fmt/format.h>

#include <map>

#include "daemon/api/band_steps.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/within.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/kin_word.hpp"
#include "daemon/words/moments.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {
namespace {

using rules::Instant;

// The band moves with a line of the journal or the turn of the day; the minute that ends after it is judged by it.
constexpr rules::Millis kLookBack = std::chrono::minutes{3};
// What still stands is said while it is news.
constexpr rules::Millis kNews = std::chrono::hours{24};

void Add(std::string& text, const std::string& sentence) {
  if (sentence.empty()) return;
  text += (text.empty() ? "" : " ") + sentence;
}

// "2 bloomies, Box 1; 1 washed rind, Box 3"; `at`: when it is asked where they lie.
std::string WheelsWords(const ApiContext& context, const std::vector<BandMove::Wheel>& wheels, Instant at) {
  const Book& book = context.book();
  std::map<std::pair<std::string, std::string>, int> groups;
  for (const BandMove::Wheel& one : wheels) {
    const auto standing = rules::StandingAt(one.wheel->History(), book.CalendarOf(one.cave), at);
    const CaveRow* cave = book.Cave(one.cave);
    ++groups[{cave ? cave->name : "", standing.plan ? ShortFamily(*standing.plan) : ""}];
  }
  std::string text;
  for (const auto& [group, count] : groups) {
    const auto& [cave, family] = group;
    text += fmt::format("{}{} {}, {}", text.empty() ? "" : "; ", count, KinWord(context.words, family, count), cave);
  }
  return text;
}

// "3 blue, Blues: carried to Cellar." and, of what is no longer here, "1 bloomy, Box 1: taken out."
std::string LeftWords(const ApiContext& context, const std::vector<BandMove::Wheel>& left, Instant at) {
  std::map<std::optional<rules::CaveId>, std::vector<BandMove::Wheel>> by_way;
  for (const BandMove::Wheel& one : left) {
    const Place* place = AsOf(context.book(), one.wheel->places, one.wheel->id, at);
    by_way[place ? place->cave : std::nullopt].push_back(one);
  }
  std::string text;
  for (const auto& [to, wheels] : by_way) {
    const CaveRow* cave = to ? context.book().Cave(*to) : nullptr;
    Add(text, context.words.Say(cave ? "ending.carried" : "ending.left",
                                {{"wheels", WheelsWords(context, wheels, at)}, {"cave", cave ? cave->name : ""}}));
  }
  return text;
}

std::string MovedWords(const ApiContext& context, const BandMove& move, Instant at) {
  std::string text;
  const auto add = [&](const char* key, const std::vector<BandMove::Wheel>& wheels) {
    if (!wheels.empty()) Add(text, context.words.Say(key, {{"wheels", WheelsWords(context, wheels, at)}}));
  };
  add("ending.staged", move.staged);
  add("ending.came", move.came);
  Add(text, LeftWords(context, move.left, at));
  if (move.typed) Add(text, context.words.Say("ending.typed"));
  return text;
}

std::string AskedWords(const ApiContext& context, const rules::ChannelView& channel) {
  if (!channel.band) return {};
  const std::string band = BandFigure(context.words, *channel.band);
  const char* unit = channel.kind == rules::ChannelKind::kTemperature ? " °C" : " %";
  return context.words.Say("ending.asked", {{"band", band + unit}});
}

// Places inside it whose wheels it does not suit.
std::string StillWords(const ApiContext& context, const CaveRow& cave) {
  std::string names;
  for (const CaveRow* box : context.book().Caves()) {
    if (box->inside != cave.id || context.watch.View(box->id).temperature.state != rules::CaveState::kOutOfBand)
      continue;
    names += (names.empty() ? "" : ", ") + box->name;
  }
  return names.empty() ? names : context.words.Say("ending.still", {{"caves", names}});
}

// Where it lay before it went from `cave`; none: it lies there still, or in what stands in it.
std::optional<BandMove::Wheel> WentFrom(const Book& book, rules::WheelId id, const rules::Alarm& alarm) {
  const WheelRow* wheel = book.Wheel(id);
  if (!wheel) return std::nullopt;
  // Warmth reaches into the boxes that stand there; a damp box is judged by itself.
  const bool reaches = rules::IsOfWarmth(alarm.kind);
  const auto lies = [&](const std::optional<rules::CaveId>& in) {
    return in && (reaches ? IsWithin(book, *in, alarm.cave) : *in == alarm.cave);
  };
  std::optional<rules::CaveId> lay;
  bool away = false;
  for (const Since<Place>* place : NotUndone(book, wheel->places, id)) {
    if (place->from > *alarm.over) break;
    away = !lies(place->value.cave);
    if (!away) lay = place->value.cave;
  }
  return away && lay ? std::optional(BandMove::Wheel{wheel, *lay}) : std::nullopt;
}

// Of air that nobody asks anything of any more: whereto its wheels went.
std::string NotAskedWords(const ApiContext& context, const rules::Alarm& alarm) {
  std::vector<BandMove::Wheel> left;
  for (const rules::WheelId id : alarm.wheels)
    if (const auto went = WentFrom(context.book(), id, alarm)) left.push_back(*went);
  if (left.empty()) return context.words.Say("ending.not asked");
  return LeftWords(context, left, *alarm.over);
}

// Of a step of a plan: what moved the band, and what was asked from then on.
std::string AskedOtherwiseWords(const ApiContext& context, const rules::Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  if (!cave) return {};
  const BandMove move = MoveOfBand(context.book(), *cave, *alarm.over - kLookBack, *alarm.over);
  std::string text = MovedWords(context, move, *alarm.over);
  const bool warmth = rules::IsOfWarmth(alarm.kind);
  Add(text, AskedWords(context, warmth ? move.after.temperature : move.after.humidity));
  if (warmth && context.now() - *alarm.over < kNews) Add(text, StillWords(context, *cave));
  return text;
}

std::string InsideWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (!alarm.back_since) return {};
  const auto inside = std::chrono::floor<std::chrono::minutes>(*alarm.over - *alarm.back_since);
  return context.words.Say("ending.inside", {{"long", LastsWords(context.words, inside)}});
}

// Of what rang because it did not turn, and is dated to when its air left the band.
std::string RangBefore(const ApiContext& context, const rules::Alarm& alarm) {
  if (!rules::IsOfBand(alarm.kind) || alarm.raised >= alarm.since) return {};
  const rules::Zone& zone = context.book().Home().zone;
  const rules::LocalTime rang = zone.ToLocal(alarm.raised);
  const auto day = std::chrono::floor<std::chrono::days>(rang);
  const bool today = day == std::chrono::floor<std::chrono::days>(zone.ToLocal(context.now()));
  const std::string time =
      context.words.Say(today ? "ending.at" : "ending.on",
                        {{"day", today ? "" : ShortDay(context.words, day)}, {"time", TimeWords(rang)}});
  // It had not left the band then, and was called so.
  const std::string what = AlarmWord(context.words, alarm.kind, rules::Why::kNotTurning, true);
  return context.words.Say("ending.rang before", {{"time", time}, {"what", what}});
}

std::string ReasonWords(const ApiContext& context, const rules::Alarm& alarm) {
  switch (alarm.ending) {
    case rules::Ending::kReturned:
      return {};
    case rules::Ending::kInside:
      return InsideWords(context, alarm);
    case rules::Ending::kAskedOtherwise:
      return AskedOtherwiseWords(context, alarm);
    case rules::Ending::kNotAsked:
      return rules::IsOfBand(alarm.kind) ? NotAskedWords(context, alarm) : std::string{};
    case rules::Ending::kStruck:
    case rules::Ending::kTakenDown:
    case rules::Ending::kNotKnown:
      return context.words.Say("ending." + std::string(rules::ToText(alarm.ending)));
  }
  return {};
}

}  // namespace

std::string EndingWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (!alarm.over) return {};
  std::string text = RangBefore(context, alarm);
  Add(text, ReasonWords(context, alarm));
  return text;
}

}  // namespace rindwatch
