#include "daemon/round/round.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace rindwatch {

using rules::CareLine;
using rules::CareState;
using rules::Date;
using rules::Schedule;

namespace {

constexpr int kLookAheadDays = 31;
// Today may be the first day with work; the one after it is what is asked for.
constexpr std::size_t kDaysToSee = 2;

struct WheelDay {
  const WheelRow* wheel;
  const CaveRow* cave;
  std::string shelf;
  Schedule schedule;
};

bool IsShown(const CareLine& line) { return line.state != CareState::kNotYet && line.state != CareState::kOpen; }

// What must be equal for two wheels to share a line.
bool BelongTogether(const RoundLine& line, const WheelDay& day, const CareLine& care) {
  const CareLine& with = line.care;
  return line.cave == day.cave && line.shelf == day.shelf && line.wheels.front()->lot == day.wheel->lot &&
         line.standing.stage == day.schedule.standing.stage && line.standing.day == day.schedule.standing.day &&
         with.kinds == care.kinds && with.done_kinds == care.done_kinds && with.skipped_kinds == care.skipped_kinds &&
         with.state == care.state && with.due == care.due && with.evening == care.evening &&
         with.settled_by == care.settled_by && with.away == care.away;
}

// Rind class first, over all caves; inside a class the caves in the keeper's order; in each young before old.
class WorkingOrder {
 public:
  explicit WorkingOrder(const std::vector<const CaveRow*>& caves) {
    for (std::size_t place = 0; place < caves.size(); ++place) order_[caves[place]] = place;
  }
  template <typename Line>
  bool operator()(const Line& a, const Line& b) const {
    return KeyOf(a) < KeyOf(b);
  }

 private:
  template <typename Line>
  auto KeyOf(const Line& line) const {
    const auto found = order_.find(line.cave);
    const std::size_t cave = found == order_.end() ? order_.size() : found->second;
    const auto rind = line.standing.plan ? static_cast<int>(line.standing.plan->rind) : 0;
    return std::tuple(rind, cave, line.standing.age, line.shelf);
  }
  std::map<const CaveRow*, std::size_t> order_;
};

void AddLines(const WheelDay& day, Round& round) {
  for (const CareLine& care : day.schedule.lines) {
    if (!IsShown(care)) continue;
    const auto same =
        std::ranges::find_if(round.lines, [&](const RoundLine& line) { return BelongTogether(line, day, care); });
    if (same != round.lines.end()) {
      same->wheels.push_back(day.wheel);
    } else {
      round.lines.push_back({{day.wheel}, day.cave, day.shelf, day.schedule.standing, care});
    }
  }
}

void AddQuestions(const WheelDay& day, Round& round) {
  for (const rules::Question& question : day.schedule.questions) {
    const auto same = std::ranges::find_if(round.questions, [&](const RoundQuestion& other) {
      return other.cave == day.cave && other.shelf == day.shelf && other.wheels.front()->lot == day.wheel->lot &&
             other.question.kind == question.kind && other.question.text == question.text &&
             other.standing.day == day.schedule.standing.day;
    });
    if (same != round.questions.end()) {
      same->wheels.push_back(day.wheel);
    } else {
      round.questions.push_back({{day.wheel}, day.cave, day.shelf, day.schedule.standing, question});
    }
  }
}

void AddAhead(std::vector<RoundAhead>& ahead, const WheelDay& day, Date date, const std::vector<rules::CareKind>& kinds,
              std::optional<rules::Instant> from = std::nullopt) {
  const auto same = std::ranges::find_if(ahead, [&](const RoundAhead& other) {
    return other.day == date && other.cave == day.cave && other.shelf == day.shelf && other.kinds == kinds;
  });
  if (same != ahead.end()) {
    same->wheels.push_back(day.wheel);
  } else {
    ahead.push_back({date, kinds, day.cave, day.shelf, {day.wheel}, from});
  }
}

// A day's kinds by name: what is done twice that day is named once.
std::vector<rules::CareKind> EachOnce(const std::vector<rules::CareKind>& kinds) {
  std::vector<rules::CareKind> once;
  for (const rules::CareKind kind : kinds) {
    if (std::ranges::find(once, kind) == once.end()) once.push_back(kind);
  }
  return once;
}

// What is asked for the second time later today.
void AddLater(const std::vector<WheelDay>& days, Round& round, std::vector<RoundAhead>& all) {
  for (const WheelDay& day : days) {
    for (const CareLine& care : day.schedule.lines) {
      if (care.state != CareState::kNotYet || care.due != round.day || !care.not_before) continue;
      AddAhead(all, day, round.day, care.kinds, care.not_before);
    }
  }
}

// The next time at which something is due, as things stand.
void AddNext(const std::vector<WheelDay>& days, const Book& book, rules::Instant now, Round& round) {
  std::vector<RoundAhead> all;
  AddLater(days, round, all);
  for (const WheelDay& day : days) {
    const auto calendar = book.CalendarOf(day.cave ? std::optional(day.cave->id) : std::nullopt);
    for (const rules::Ahead& ahead : rules::LookAhead(day.wheel->history, calendar, now, kLookAheadDays, kDaysToSee)) {
      if (ahead.day > round.day) {
        AddAhead(all, day, ahead.day, EachOnce(ahead.kinds));
        break;
      }
    }
  }
  if (all.empty()) return;
  const Date first = std::ranges::min(all, {}, &RoundAhead::day).day;
  for (RoundAhead& ahead : all) {
    if (ahead.day == first) round.next.push_back(std::move(ahead));
  }
}

}  // namespace

std::size_t Round::Left() const {
  return static_cast<std::size_t>(
      std::ranges::count_if(lines, [](const RoundLine& line) { return line.care.OnRound(); }));
}

Round RoundAt(const Book& book, rules::Instant now) {
  Round round;
  round.day = book.Home().DayOf(now);
  std::vector<WheelDay> days;
  for (const WheelRow* wheel : book.Wheels()) {
    const Place place = book.PlaceOf(*wheel);
    const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
    days.push_back({wheel, cave, place.shelf, rules::ScheduleAt(wheel->history, book.CalendarOf(place.cave), now)});
  }
  for (const WheelDay& day : days) {
    AddLines(day, round);
    AddQuestions(day, round);
    for (const CareLine& care : day.schedule.lines) {
      if (care.state == CareState::kOpen) AddAhead(round.open, day, care.due, care.kinds);
    }
  }
  const WorkingOrder order(book.Caves());
  std::ranges::stable_sort(round.lines, order);
  std::ranges::stable_sort(round.questions, order);
  AddNext(days, book, now, round);
  return round;
}

}  // namespace rindwatch
