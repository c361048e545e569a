#include "daemon/api/sentence.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/alarm_views.hpp"
#include "daemon/api/barred.hpp"
#include "daemon/api/cave_news.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/clock/clocks.hpp"
#include "daemon/round/round.hpp"
#include "daemon/words/alarm_word.hpp"

namespace rindwatch {

namespace {

// More alarms than these are counted: a flood is one thing to say.
constexpr std::size_t kMostTold = 2;

// "Tuesday, A2."; what comes later today by its hour.
std::string NextWords(const ApiContext& context, const Outlook& outlook) {
  const auto say = [&](const std::string& when, const rules::RoundPlace& place) {
    return " " + context.words.Say("round.next", {{"day", when}, {"place", PlaceName(context.book(), place)}});
  };
  if (!outlook.later.empty()) {
    const auto first =
        std::ranges::min_element(outlook.later, {}, [](const rules::EarlyLine& line) { return line.from; });
    return say(TimeWord(context.book(), *first->from), first->place);
  }
  if (outlook.coming.empty()) return {};
  const rules::ComingDay& day = outlook.coming.front();
  return say(DayWord(context, day.day), day.lines.front().place);
}

std::string NothingLeft(const ApiContext& context, const DayRound& round) {
  const Outlook& outlook = context.watch.TodaysOutlook();
  const char* key = !outlook.later.empty()     ? "sentence.now done"
                    : round.work.lines.empty() ? "round.nothing"
                                               : "round.done";
  return context.words.Say(key) + NextWords(context, outlook);
}

void AddSentence(std::string& text, const std::string& sentence) {
  if (sentence.empty()) return;
  text += (text.empty() ? "" : " ") + sentence;
}

std::string RoundSentence(const ApiContext& context) {
  const Words& words = context.words;
  if (context.book().Wheels().empty()) return words.Say("sentence.empty");
  const DayRound& round = context.watch.TodaysRound();
  const rules::Round work = WithoutBarred(context, round.work);
  const std::string barred = BarredWords(words, BarredOf(context, round.work));
  std::string text;
  if (const std::size_t left = work.Left()) {
    const auto minutes = words.Count("round.minutes", static_cast<std::size_t>(work.Minutes()));
    text = words.Count("round.left minutes", left, {{"minutes", minutes}});
  } else if (barred.empty()) {
    text = NothingLeft(context, round);
  }
  AddSentence(text, barred);
  if (const std::size_t questions = round.work.questions.size())
    AddSentence(text, words.Count("round.questions", questions));
  return text;
}

// The day of an end only where it is another one than that of the beginning.
std::string UntilWord(const ApiContext& context, const rules::Alarm& alarm) {
  const auto date = [&](rules::Instant of) {
    return std::chrono::floor<std::chrono::days>(context.book().Home().zone.ToLocal(of));
  };
  const rules::Instant until = alarm.LastedUntil();
  return date(until) == date(ToldSince(context.watch, alarm)) ? TimeWord(context.book(), until)
                                                              : SinceWord(context, until);
}

std::string AlarmSentence(const ApiContext& context, const rules::Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  // It began by a clock that was ahead: since when nobody knows.
  if (HasNotCome(context, alarm.since))
    return context.words.Say("sentence.alarm undated",
                             {{"cave", cave ? cave->name : ""}, {"what", AlarmWord(context.words, alarm)}});
  if (Asks(alarm.kind, alarm.why) && !alarm.over)
    return context.words.Say("alarm.asks", {{"cave", cave ? cave->name : ""}});
  // That nobody watched is past when it is told, though its air may not have been heard yet.
  if (alarm.kind == rules::AlarmKind::kUnwatched && alarm.back_since) {
    const std::string gap = context.words.Say("notice.unwatched", {{"cave", cave ? cave->name : ""},
                                                                   {"from", SinceWord(context, alarm.since)},
                                                                   {"to", UntilWord(context, alarm)}});
    const std::string news = EdgesNews(context.words, alarm);
    return news.empty() ? gap : gap + " " + news;
  }
  const bool past = alarm.over || alarm.kind == rules::AlarmKind::kUnwatched;
  const char* key = past                           ? "sentence.alarm.over"
                    : IsBackInBand(context, alarm) ? "sentence.alarm.back"
                                                   : "sentence.alarm";
  const std::string time = SinceWord(context, ToldSince(context.watch, alarm));
  return context.words.Say(key, {{"cave", cave ? cave->name : ""},
                                 {"what", AlarmWord(context.words, alarm)},
                                 {"time", time},
                                 {"until", past ? UntilWord(context, alarm) : time}});
}

}  // namespace

std::string ClockTrouble(const ApiContext& context) {
  return context.words.Say("trouble.clock", {{"now", SinceWord(context, context.now())},
                                             {"until", SinceWord(context, context.broker->KeptUntil())}});
}

std::string ClockTroubleMore(const ApiContext& context) { return context.words.Say("trouble.clock more"); }

bool HasNotCome(const ApiContext& context, rules::Instant at) { return at > context.now() + kClockSlack; }

std::string TimeWord(const Book& book, rules::Instant at) {
  const rules::LocalTime local = book.Home().zone.ToLocal(at);
  const std::chrono::hh_mm_ss clock{local - std::chrono::floor<std::chrono::days>(local)};
  return fmt::format("{:02}:{:02}", clock.hours().count(), clock.minutes().count());
}

std::string SinceWord(const ApiContext& context, rules::Instant at) {
  const auto date = [&](rules::Instant of) {
    return std::chrono::floor<std::chrono::days>(context.book().Home().zone.ToLocal(of));
  };
  std::string time = TimeWord(context.book(), at);
  // An hour is of its date on the wall, and what rings knows no keeper's day: read at one in the morning, the evening
  // that was is yesterday.
  const rules::Date day = date(at), today = date(context.now());
  if (day == today) return time;
  if (day == today - std::chrono::days{1}) return context.words.Say("day.yesterday") + " " + time;
  return DayWord(context, day) + " " + time;
}

std::string DayWord(const ApiContext& context, rules::Date day) {
  const rules::Date today = context.book().Home().DayOf(context.now());
  if (day == today) return context.words.Say("day.today");
  if (day == today + std::chrono::days{1}) return context.words.Say("day.tomorrow");
  std::string name = context.words.Say("weekday." + std::to_string(rules::WeekdayOf(day).iso_encoding()));
  if (day - today < std::chrono::days{7} && today < day) return name;
  const std::chrono::year_month_day date{day};
  return fmt::format("{} {} {}", name, static_cast<unsigned>(date.day()),
                     context.words.Say("month." + std::to_string(static_cast<unsigned>(date.month()))));
}

std::vector<Sentence> AlarmSentences(const ApiContext& context) {
  std::vector<Sentence> sentences;
  std::size_t more = 0;
  for (const rules::Alarm& alarm : AlarmsAsTold(context)) {
    if (alarm.severity < rules::Severity::kWatch || CanWait(alarm.kind, alarm.why)) continue;
    if (sentences.size() == kMostTold) {
      // What is over and only not seen asks for nobody.
      more += alarm.over ? 0U : 1U;
    } else {
      sentences.push_back({AlarmSentence(context, alarm), alarm.id});
    }
  }
  if (more > 0) sentences.push_back({context.words.Count("sentence.alarms more", more)});
  return sentences;
}

std::vector<Sentence> SmallSentences(const ApiContext& context) {
  std::vector<Sentence> sentences;
  std::size_t more = 0;
  for (const rules::Alarm& alarm : AlarmsAsTold(context)) {
    if (alarm.severity < rules::Severity::kWatch || !CanWait(alarm.kind, alarm.why)) continue;
    if (sentences.size() == kMostTold) {
      more += alarm.over ? 0U : 1U;
    } else {
      sentences.push_back({AlarmSentence(context, alarm), alarm.id});
    }
  }
  if (more > 0) sentences.push_back({context.words.Count("sentence.alarms more", more)});
  return sentences;
}

std::string SentenceOf(const ApiContext& context) {
  std::string text;
  for (const Sentence& sentence : AlarmSentences(context)) AddSentence(text, sentence.text);
  AddSentence(text, RoundSentence(context));
  for (const std::string& sentence : CaveSentences(context.words, NewsOfCaves(context))) AddSentence(text, sentence);
  for (const Sentence& sentence : SmallSentences(context)) AddSentence(text, sentence.text);
  return text;
}

std::string BesidesOf(const ApiContext& context) {
  std::vector<CaveNews> news = NewsOfCaves(context);
  const auto is_unknown = [](const CaveNews& cave) { return cave.state == rules::CaveState::kUnknown; };
  if (std::ranges::count_if(news, is_unknown) > 1) {
    for (CaveNews& cave : news) cave.since = cave.why = {};
  }
  std::string text = BarredWords(context.words, BarredOf(context, context.watch.TodaysRound().work));
  for (const std::string& sentence : CaveSentences(context.words, news)) AddSentence(text, sentence);
  return text;
}

}  // namespace rindwatch
