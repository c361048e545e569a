#include "daemon/api/step_end.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "daemon/api/band_steps.hpp"
#include "daemon/api/json.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/words/kin_word.hpp"
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
    Add(text, context.words.Say(cave ? "step end.carried" : "step end.left",
                                {{"wheels", WheelsWords(context, wheels, at)}, {"cave", cave ? cave->name : ""}}));
  }
  return text;
}

std::string MovedWords(const ApiContext& context, const BandMove& move, Instant at) {
  std::string text;
  const auto add = [&](const char* key, const std::vector<BandMove::Wheel>& wheels) {
    if (!wheels.empty()) Add(text, context.words.Say(key, {{"wheels", WheelsWords(context, wheels, at)}}));
  };
  add("step end.staged", move.staged);
  add("step end.came", move.came);
  Add(text, LeftWords(context, move.left, at));
  if (move.typed) Add(text, context.words.Say("step end.typed"));
  return text;
}

std::string AskedWords(const ApiContext& context, const rules::ChannelView& channel) {
  if (!channel.band) return {};
  const auto band = context.words.Say(
      "span", {{"low", fmt::format("{}", channel.band->low)}, {"high", fmt::format("{}", channel.band->high)}});
  const char* unit = channel.kind == rules::ChannelKind::kTemperature ? " °C" : " %";
  return context.words.Say("step end.asked", {{"band", band + unit}});
}

// Places inside it whose wheels it does not suit.
std::string StillWords(const ApiContext& context, const CaveRow& cave) {
  std::string names;
  for (const CaveRow* box : context.book().Caves()) {
    if (box->inside != cave.id || context.watch.View(box->id).temperature.state != rules::CaveState::kOutOfBand)
      continue;
    names += (names.empty() ? "" : ", ") + box->name;
  }
  return names.empty() ? names : context.words.Say("step end.still", {{"caves", names}});
}

// Whether any of its wheels went when it ended: most did not, and their caves need not be looked at.
bool AnyWentAtItsEnd(const Book& book, const rules::Alarm& alarm) {
  const auto then = [&alarm](const auto& since) {
    return *alarm.over - kLookBack < since.from && since.from <= *alarm.over;
  };
  return std::ranges::any_of(alarm.wheels, [&](rules::WheelId id) {
    const WheelRow* wheel = book.Wheel(id);
    return wheel && std::ranges::any_of(wheel->places, then);
  });
}

// Of air that nobody asks anything of any more because its wheels went; empty: it ended otherwise.
std::string EmptiedWords(const ApiContext& context, const CaveRow& cave, const rules::Alarm& alarm, bool warmth) {
  if (!rules::IsOfBand(alarm.kind) || !AnyWentAtItsEnd(context.book(), alarm)) return {};
  const BandMove move = MoveOfBand(context.book(), cave, *alarm.over - kLookBack, *alarm.over);
  const bool asked = (warmth ? move.after.temperature : move.after.humidity).band.has_value();
  return asked ? std::string{} : LeftWords(context, move.left, *alarm.over);
}

}  // namespace

std::string StepEndWords(const ApiContext& context, const rules::Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  if (!alarm.over || !cave) return {};
  const bool warmth = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooCold;
  if (!alarm.struck) return EmptiedWords(context, *cave, alarm, warmth);
  if (alarm.why != rules::Why::kPlanStep) return {};
  const BandMove move = MoveOfBand(context.book(), *cave, *alarm.over - kLookBack, *alarm.over);
  std::string text = MovedWords(context, move, *alarm.over);
  Add(text, AskedWords(context, warmth ? move.after.temperature : move.after.humidity));
  if (warmth && context.now() - *alarm.over < kNews) Add(text, StillWords(context, *cave));
  return text;
}

}  // namespace rindwatch
