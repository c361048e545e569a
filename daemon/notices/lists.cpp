// The lists of morning and evening: which are due, and what the ones before them told.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "daemon/broker/broker_side.hpp"
#include "daemon/notices/notices.hpp"
#include "daemon/notices/rows.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::days;
using std::chrono::minutes;

namespace {

// So soon after quiet hours a list tells what waited for their end.
constexpr minutes kListSoon{30}, kWholeDay{24 * 60};

// The first list of the morning of those who want a second one; what came before it was told by it. None: nobody does.
std::optional<Instant> FirstMorning(const std::vector<rules::ListReader>& readers, const rules::DayTurn& home,
                                    rules::Date day) {
  std::optional<minutes> hour;
  for (const rules::ListReader& reader : readers) {
    if (reader.evening) hour = std::min(hour.value_or(reader.morning), reader.morning);
  }
  return hour ? std::optional(home.zone.FirstInstantAtOrAfter(rules::LocalTime{day} + *hour)) : std::nullopt;
}

// Acts that entered wheels and arrived since then, from a phone without reception maybe long after they were tapped.
std::set<rules::ActId> EntriesSince(const Book& book, std::optional<Instant> morning) {
  std::set<rules::ActId> entries;
  // Of lines older than the newest only the tap is known.
  if (morning) {
    book.ForEachWheel([&](const WheelRow& wheel) {
      if (wheel.History().entered >= *morning) entries.insert(wheel.act);
    });
  }
  for (const JournalLine& line : book.Newest())
    if (morning && line.kind == "enter" && line.received_at >= *morning) entries.insert(line.id);
  return entries;
}

// Open of a wheel that is handled twice a day, or of one that came after the morning's list: of that no list has told.
bool AsksInTheEvening(const Book& book, const rules::RoundLine& line, const std::set<rules::ActId>& since_morning) {
  if (!line.care->OnRound()) return false;
  return line.care->evening || std::ranges::any_of(line.wheels, [&](const rules::RoundWheel& one) {
           const WheelRow* wheel = book.Wheel(one.id);
           return wheel != nullptr && since_morning.contains(wheel->act);
         });
}

// When a list was made, or made anew because it could not go.
Instant AsOf(const NoticeRow& row) {
  return row.letter.empty() ? row.made_at : LetterFrom(row.letter).as_of.value_or(row.made_at);
}

// Nobody may have heard of it yet, whatever the day is.
bool AsksForAHand(const rules::EngineState& engine) {
  return std::ranges::any_of(engine.Alarms(), [](const rules::Alarm& alarm) {
    return alarm.Rings() && alarm.severity >= rules::Severity::kAct;
  });
}

}  // namespace

rules::DayOfWork Notices::WorkOfToday(const std::vector<rules::ListReader>& readers) const {
  const rules::DayTurn& home = context_.book().Home();
  rules::DayOfWork work{home.DayOf(context_.now())};
  const DayRound& round = context_.watch.TodaysRound();
  work.work = round.Left() > 0 || !round.work.questions.empty() || AsksForAHand(context_.watch.Engine());
  const auto entries = EntriesSince(context_.book(), FirstMorning(readers, home, work.day));
  work.evening = std::ranges::any_of(round.work.lines, [&](const rules::Round::Line& line) {
    return AsksInTheEvening(context_.book(), *line.line, entries);
  });
  return work;
}

// Between the end of their quiet hours and a list that comes soon after it is quiet for them still: that one tells what
// waited.
rules::Hearer Notices::HearerNow(const Hearing& hearing) const {
  const rules::DayTurn& home = context_.book().Home();
  const rules::ListReader& reader = hearing.reader;
  const auto& quiet = reader.hearer.quiet;
  if (!quiet || quiet->from == quiet->to || reader.morning == quiet->from) return reader.hearer;
  const minutes after = (reader.morning - quiet->to + kWholeDay) % kWholeDay;
  if (after == minutes{0} || after > kListSoon) return reader.hearer;
  rules::Hearer waits = reader.hearer;
  waits.quiet->to = reader.morning;
  const auto until = rules::QuietUntil(waits, home.zone, context_.now());
  if (!until || rules::QuietUntil(reader.hearer, home.zone, context_.now())) return reader.hearer;
  const std::vector<rules::ListReader> readers{reader};
  const auto due = ListsDue(readers, WorkOfToday(readers), lists_, home, *until);
  const bool comes = std::ranges::any_of(due.now, [](const rules::ListSent& list) { return !list.evening; });
  return comes ? waits : reader.hearer;
}

// What calls nobody, and the list names: a watch that stands, and what is over. What gas does is a matter of its own.
bool Notices::ListTells(const NoticeRow& row) {
  const rules::Alarm* alarm = AlarmOf(row.alarm);
  if (!alarm || rules::IsGas(alarm->kind) || alarm->Folded() || alarm->severity < rules::Severity::kWatch) return false;
  if (row.kind == rules::ToText(rules::NoticeKind::kOver)) return true;
  const bool quiet = rules::SeverityFrom(LetterFrom(row.letter).severity) == rules::Severity::kWatch;
  return row.kind == rules::ToText(rules::NoticeKind::kRings) && quiet && alarm->severity == rules::Severity::kWatch;
}

std::optional<Instant> Notices::ReviewLists(const std::vector<Hearing>& hearings) {
  // A clock that shows less than what was kept may be any time of any day.
  if (context_.broker && !context_.broker->IsClockKnown() && !set_back_) return context_.now() + minutes{1};
  std::vector<rules::ListReader> readers;
  readers.reserve(hearings.size());
  for (const Hearing& hearing : hearings) readers.push_back(hearing.reader);
  const rules::DayTurn& home = context_.book().Home();
  rules::DayOfWork work{home.DayOf(context_.now()), true, true};
  auto due = ListsDue(readers, work, lists_, home, context_.now());
  if (due.now.empty()) {
    lists_.insert(due.passed.begin(), due.passed.end());
    return due.next;
  }
  work = WorkOfToday(readers);
  due = ListsDue(readers, work, lists_, home, context_.now());
  for (const rules::ListSent& list : due.now) {
    const auto hearing = std::ranges::find(hearings, list.reader, &Hearing::Name);
    lists_.insert(list);
    NoticeRow row;
    row.kind = list.evening ? "evening" : "morning";
    row.key = fmt::format("{} {} | {}", row.kind, ToText(list.day), list.reader);
    // Its day is over a day later; the one on which clocks go back is longer than that.
    row.asked = home.EndOf(list.day) - std::chrono::hours{24};
    Say(*hearing, std::move(row), letters_.OfRound(list.evening, ToldUntil(hearing->reader, list.evening)));
  }
  lists_.insert(due.passed.begin(), due.passed.end());
  return due.next;
}

// By the lists before. One that reached nobody told nothing, be it given up, overtaken by a newer one or still waiting.
Instant Notices::ToldUntil(const rules::ListReader& reader, bool evening) const {
  const rules::DayTurn& home = context_.book().Home();
  const rules::Date today = home.DayOf(context_.now());
  std::optional<Instant> told;
  for (const auto& [list, rows] : list_rows_) {
    const bool before = list.day < today || (list.day == today && evening && !list.evening);
    if (list.reader != reader.hearer.name || !before) continue;
    for (const NoticeRow& row : rows) {
      if (Reached(row)) told = std::max(told, std::optional(AsOf(row)));
    }
  }
  if (told) return *told;
  // Who has had none yet was told nothing since that was asked for.
  const Instant yesterday = home.zone.FirstInstantAtOrAfter(rules::LocalTime{today - days{1}} + reader.morning);
  return std::min(yesterday, std::max(reader.since, context_.now() - kRememberFor));
}

std::optional<Instant> Notices::ToldUntil() const {
  std::optional<Instant> earliest;
  for (const Hearing& hearing : context_.book().Hearings()) {
    if (!hearing.Hears() || hearing.reader.habit == rules::ListHabit::kNever) continue;
    const Instant told = ToldUntil(hearing.reader, false);
    if (!earliest || told < *earliest) earliest = told;
  }
  return earliest;
}

void Notices::ForgetListsOf(rules::Date after) {
  std::erase_if(lists_, [&](const rules::ListSent& list) { return list.day > after; });
  for (auto& [list, rows] : list_rows_) {
    if (list.day <= after) continue;
    for (NoticeRow& row : rows) {
      if (row.number == 0) continue;
      row.key += fmt::format(" | {} ahead", row.number);
      queue_.Rename(row);
    }
    rows.clear();
  }
}

}  // namespace rindwatch
