#include "daemon/api/sentence.hpp"

#include <fmt/format.h>

#include "daemon/api/json.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

using rules::CaveState;

namespace {

std::string RoundSentence(const ApiContext& context) {
  const Words& words = context.words;
  if (context.book().Wheels().empty()) return words.Say("sentence.empty");
  const Round& round = context.watch.TodaysRound();
  std::string text;
  if (const std::size_t left = round.Left()) {
    text = words.Count("round.left", left);
  } else {
    const bool later_today = !round.next.empty() && round.next.front().day == round.day;
    text = words.Say(later_today ? "sentence.now done" : round.lines.empty() ? "round.nothing" : "round.done");
    if (!round.next.empty()) {
      const RoundAhead& next = round.next.front();
      const std::string when = next.from ? TimeWord(context.book(), *next.from) : DayWord(context, next.day);
      text += " " + words.Say("round.next", {{"day", when}, {"place", PlaceName(next.cave, next.shelf)}});
    }
  }
  if (!round.questions.empty()) text += " " + words.Count("round.questions", round.questions.size());
  return text;
}

std::string AlarmSentence(const ApiContext& context, const rules::Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  const std::string key = alarm.over ? "sentence.alarm.over" : "sentence.alarm";
  return context.words.Say(key, {{"cave", cave ? cave->name : ""},
                                 {"what", context.words.Say("alarm." + std::string(rules::ToText(alarm.kind)))},
                                 {"time", TimeWord(context.book(), alarm.since)}});
}

// Caves that drift or of which nothing is known, unless an alarm says so already.
std::string CaveSentence(const ApiContext& context, const CaveRow& cave) {
  const rules::CaveView view = context.watch.View(cave.id);
  for (const rules::Alarm& alarm : context.watch.Engine().Alarms()) {
    // A hint is not told in the sentence, so it may not silence what is. What stands inside another is touched by the
    // same event.
    if (!alarm.over && alarm.severity >= rules::Severity::kWatch &&
        (alarm.cave == cave.id || alarm.cave == cave.inside))
      return {};
  }
  if (view.state == CaveState::kUnknown) return context.words.Say("sentence.unknown", {{"cave", cave.name}});
  for (const rules::ChannelView* channel : {&view.temperature, &view.humidity}) {
    if (channel->state != CaveState::kDrifting && channel->state != CaveState::kOutOfBand) continue;
    const bool air = channel == &view.temperature;
    const char* side = channel->side > 0 ? (air ? "warm" : "damp") : (air ? "cold" : "dry");
    const char* key = channel->state == CaveState::kDrifting ? "sentence.drifts" : "sentence.out";
    return context.words.Say(key, {{"cave", cave.name}, {"side", context.words.Say(std::string("side.") + side)}});
  }
  return {};
}

}  // namespace

std::string TimeWord(const Book& book, rules::Instant at) {
  const rules::LocalTime local = book.Home().zone.ToLocal(at);
  const std::chrono::hh_mm_ss clock{local - std::chrono::floor<std::chrono::days>(local)};
  return fmt::format("{:02}:{:02}", clock.hours().count(), clock.minutes().count());
}

std::string DayWord(const ApiContext& context, rules::Date day) {
  const rules::Date today = context.book().Home().DayOf(context.now());
  if (day == today) return context.words.Say("day.today");
  if (day == today + std::chrono::days{1}) return context.words.Say("day.tomorrow");
  const std::string name = context.words.Say("weekday." + std::to_string(rules::WeekdayOf(day).iso_encoding()));
  if (day - today < std::chrono::days{7} && today < day) return name;
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {} {}", name, static_cast<unsigned>(date.day()),
                     context.words.Say("month." + std::to_string(static_cast<unsigned>(date.month()))));
}

std::string SentenceOf(const ApiContext& context) {
  std::string text;
  const auto add = [&text](const std::string& sentence) {
    if (sentence.empty()) return;
    if (!text.empty()) text += " ";
    text += sentence;
  };
  for (const rules::Alarm& alarm : context.watch.Engine().Alarms()) {
    if (alarm.severity >= rules::Severity::kWatch) add(AlarmSentence(context, alarm));
  }
  add(RoundSentence(context));
  for (const CaveRow* cave : context.book().Caves()) add(CaveSentence(context, *cave));
  return text;
}

}  // namespace rindwatch
