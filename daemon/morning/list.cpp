#include "daemon/morning/list.hpp"

#include <algorithm>
#include <cmath>

#include "daemon/api/barred.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/morning/past.hpp"
#include "daemon/morning/ready.hpp"
#include "daemon/morning/standing.hpp"
#include "daemon/round/found_at.hpp"
#include "rules/round/looks.hpp"

namespace rindwatch::morning {

using std::chrono::days;

namespace {

constexpr int kNextLines = 6;
constexpr int kDaysAhead = 7;  // of which the busiest is told
constexpr int kShortDay = 15;  // minutes that nobody needs to plan for

Line LineOf(const Book& book, const rules::RoundLine& line) {
  const rules::CareLine& care = *line.care;
  const rules::Standing& standing = line.TheStanding();
  Line told;
  told.place = PlaceName(book, line.place);
  told.kinds = care.kinds;
  told.count = static_cast<int>(line.wheels.size());
  told.lot = RoundLotName(book, line.lot);
  told.family = ShortFamily(*standing.plan);
  told.day = standing.stage ? standing.day : 0;
  told.since = SinceOf(standing);
  told.drying = standing.stage != nullptr && standing.stage->state == rules::WheelState::kDrying;
  told.state = care.state;
  told.done_kinds = care.done_kinds;
  told.skipped_kinds = care.skipped_kinds;
  // Under half a minute none is told.
  if (care.OnRound()) told.minutes = rules::ShownMinutes(line.seconds);
  if (care.state == rules::CareState::kLate) told.late_since = care.late_since;
  told.new_cadence = line.new_cadence;
  told.then = WantsThen(line);
  told.cut = static_cast<int>(std::ranges::count_if(line.wheels, &rules::RoundWheel::cut));
  told.two_people = line.two_people;
  told.away = care.away;
  told.evening = care.evening;
  told.past_plan = standing.past_plan;
  told.reason = care.reason;
  if (line.marked) {
    told.mark = line.mark;
    told.held = line.held;
  }
  if (LotHere(book, line) > told.count) {
    for (const rules::RoundWheel& wheel : line.wheels) {
      if (wheel.number > 0) told.numbers.push_back(wheel.number);
    }
  }
  for (const FaultSeen* fault : FoundAt(book, line))
    told.found_at.push_back({fault->what, PlaceName(book, fault->place)});
  return told;
}

Question QuestionOf(const Words& words, const Book& book, const rules::RoundQuestion& ask) {
  const rules::Standing& standing = ask.schedule->standing;
  Question told;
  told.place = PlaceName(book, ask.place);
  told.text = QuestionText(words, *ask.question);
  told.lot = RoundLotName(book, ask.lot);
  told.family = ShortFamily(*standing.plan);
  told.day = standing.day;
  if (ask.question->kind == rules::Question::Kind::kStart) {
    const bool dry = ask.question->start == rules::StartKind::kDry;
    const auto places = PlacesFor(book, ask);
    told.answers = {!places.empty() ? words.Say("answer.into", {{"cave", places.front()->name}})
                                    : words.Say(dry ? "answer.dry" : "answer.yes"),
                    words.Say("answer.not yet")};
  } else {
    told.answers = ask.question->options;
    told.answers.push_back(words.Say("answer.later"));
  }
  return told;
}

// Lines and questions as they come on the way: a question stands before the lines of its place.
std::vector<Section> SectionsOf(const ApiContext& context, const rules::Round& round, bool today) {
  std::vector<Section> sections;
  sections.reserve(round.sections.size());
  for (const rules::RoundSection& section : round.sections)
    sections.push_back({section.rind, section.marked, section.change, {}});
  auto ask = round.questions.begin();
  const auto looks = rules::LooksToSay(round);
  const Bars bars(context);
  for (std::size_t at = 0; at <= round.lines.size(); ++at) {
    for (; ask != round.questions.end() && ask->before == at; ++ask)
      sections[ask->section].entries.push_back({{}, QuestionOf(context.words, context.book(), *ask->question)});
    if (at == round.lines.size()) break;
    const rules::Round::Line& line = round.lines[at];
    Line told = LineOf(context.book(), *line.line);
    told.look_first = looks[at];
    if (today) told.barred = bars.Of(line);
    if (told.barred) told.minutes = 0;
    sections[line.section].entries.push_back({std::move(told), {}});
  }
  return sections;
}

Bring BringOf(const Book& book, const rules::Round& round) {
  const rules::Bring bring = rules::BringFor(round);
  Bring told;
  for (const rules::BringWash& wash : bring.washes) {
    Wash& mixed = told.washes.emplace_back();
    mixed.salt_grams = static_cast<int>(std::lround(wash.mixing.salt.value));
    mixed.water_ml = static_cast<int>(std::lround(wash.mixing.water.value));
    for (const rules::RoundPlace& place : wash.places) mixed.places.push_back(PlaceName(book, place));
    for (const rules::MixedAddition& addition : wash.mixing.additions)
      mixed.additions.emplace_back(addition.name, static_cast<int>(std::lround(addition.volume.value)));
  }
  told.cloths = bring.cloths;
  told.tools = bring.tools;
  told.two_people = bring.two_people;
  told.mask = bring.mask;
  for (const rules::Round::Line& line : round.lines) {
    const bool brushed = line.line->marked && line.line->care->OnRound() &&
                         std::ranges::find(line.line->care->kinds, CareKind::kBrush) != line.line->care->kinds.end();
    if (brushed && told.own_brush_for.empty()) told.own_brush_for = PlaceName(book, line.line->place);
  }
  return told;
}

std::vector<NextLine> NextOf(const Book& book, const Outlook& outlook) {
  std::vector<NextLine> next;
  next.reserve(outlook.later.size());
  for (const rules::EarlyLine& line : outlook.later)
    next.push_back({line.due, PlaceName(book, line.place), line.kinds, static_cast<int>(line.wheels.size()), 0});
  for (const rules::ComingDay& day : outlook.coming) {
    for (const rules::ComingLine& line : day.lines) {
      if (next.size() >= kNextLines) return next;
      next.push_back({day.day, PlaceName(book, line.place), line.kinds, static_cast<int>(line.wheels.size()),
                      rules::ShownMinutes(line.seconds)});
    }
  }
  return next;
}

ComingDay ComingDayOf(const Book& book, const rules::ComingDay& day) {
  const auto longest = std::ranges::max_element(day.lines, {}, &rules::ComingLine::seconds);
  return {day.day, day.minutes, longest->kinds, PlaceName(book, longest->place)};
}

void AddComing(const Book& book, const Outlook& outlook, List& list) {
  const rules::ComingDay* busiest = nullptr;
  for (const rules::ComingDay& day : outlook.coming) {
    if (day.day == list.day + days{1}) list.tomorrow = ComingDayOf(book, day);
    if (day.day > list.day + days{1} && day.day <= list.day + days{kDaysAhead} &&
        (busiest == nullptr || busiest->minutes < day.minutes))
      busiest = &day;
  }
  // Worth saying where it is more than what is before the keeper now and tomorrow.
  if (!busiest) return;
  const int most = std::max({list.minutes, list.tomorrow ? list.tomorrow->minutes : 0, kShortDay});
  if (busiest->minutes > most) list.busiest = ComingDayOf(book, *busiest);
}

}  // namespace

List ListOf(const ApiContext& context, const RoundAsk& ask, std::optional<rules::Instant> told_until) {
  const Book& book = context.book();
  const bool today = IsToday(context, ask);
  const DayRound other = today ? DayRound{} : OtherRound(context, ask);
  const DayRound& round = today ? context.watch.TodaysRound() : other;
  List list;
  list.at = book.Home().zone.ToLocal(round.expected ? context.now() : round.asked);
  list.day = round.Day();
  list.is_today = today;
  list.expected = round.expected;
  list.trial = context.trial;
  list.sections = SectionsOf(context, round.work, today);
  const rules::Round work = today ? WithoutBarred(context, round.work) : round.work;
  list.bring = BringOf(book, work);
  list.left = static_cast<int>(work.Left());
  if (today) list.barred = BarredOf(context, round.work);
  list.questions = static_cast<int>(round.work.questions.size());
  list.minutes = work.Minutes();
  if (!today) return list;
  // What may be done early, what comes, caves and alarms are told beside today's round alone.
  const Outlook& outlook = context.watch.TodaysOutlook();
  for (const rules::EarlyLine& line : outlook.open)
    list.early.push_back({PlaceName(book, line.place), line.kinds, line.due});
  list.next = NextOf(book, outlook);
  AddComing(book, outlook, list);
  const rules::Instant told = told_until ? *told_until : ToldUntil(context);
  AddStanding(context, told, list);
  AddReady(context, told, list);
  return list;
}

}  // namespace rindwatch::morning
