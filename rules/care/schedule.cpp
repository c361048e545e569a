#include "rules/care/schedule.hpp"

#include <algorithm>
#include <iterator>

#include "rules/care/lines.hpp"
#include "rules/care/questions.hpp"
#include "rules/care/standing.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

// On a day 0 the acts of the day belong to the stage before: what they settled is shown, nothing of it is asked.
std::vector<Item> ItemsSettledOnDayZero(const Ground& ground, std::size_t index) {
  std::vector<Item> settled;
  if (index == 0 || ground.timeline.StageOfActs(ground.today) != &ground.timeline.Segments()[index - 1]) return settled;
  for (Item& item : ItemsOf(ground, index - 1, ground.Now())) {
    const bool counts_days_on = !std::holds_alternative<OnlyTogether>(item.care->cadence) &&
                                RunOf(ground, index - 1, *item.care).last >= ground.today;
    item.verdict.pending.reset();
    if (!counts_days_on && !item.verdict.settled.empty()) settled.push_back(std::move(item));
  }
  return settled;
}

// One doing is shown once: by the stage before, whose it is.
void LeaveOutShown(const std::vector<Item>& before, std::vector<Item>& items) {
  const auto shown = [&before](const Settlement& settlement) {
    return std::ranges::any_of(before, [&](const Item& item) {
      return std::ranges::any_of(item.verdict.settled, [&](const Settlement& one) {
        return one.deed.act == settlement.deed.act && one.deed.kind == settlement.deed.kind;
      });
    });
  };
  for (Item& item : items) std::erase_if(item.verdict.settled, shown);
}

std::vector<Item> ItemsToday(const Ground& ground) {
  const std::size_t index = ground.timeline.IndexAtOrAfter(ground.today);
  if (index == ground.timeline.Segments().size()) return {};
  const bool day_zero = ground.timeline.IsDayZero(ground.today);
  if (!day_zero && ground.timeline.Segments()[index].first > ground.today) return {};
  std::vector<Item> items = ItemsOf(ground, index, ground.Now());
  if (!day_zero) return items;
  std::vector<Item> all = ItemsSettledOnDayZero(ground, index);
  LeaveOutShown(all, items);
  std::ranges::move(items, std::back_inserter(all));
  return all;
}

void NameWhatWasLeft(const Ground& ground, Schedule& schedule) {
  const std::size_t index = ground.timeline.IndexAtOrAfter(ground.today);
  const std::vector<Segment>& segments = ground.timeline.Segments();
  if (index < segments.size() && segments[index].first == ground.today) {
    std::ranges::move(LeftBehind(ground, index), std::back_inserter(schedule.lines));
  }
}

bool IsAhead(const CareLine& line) { return line.state == CareState::kNotYet || line.state == CareState::kOpen; }

// A line that waits, a question that will be asked, a stage that will begin.
std::optional<Date> NextChange(const Ground& ground, const Schedule& schedule) {
  Date next = kForEver;
  const auto consider = [&](Date day) {
    if (day > ground.today) next = std::min(next, day);
  };
  for (const CareLine& line : schedule.lines) {
    // A line that waits for its hour, or for a day 0 to pass, may be asked tomorrow at the latest.
    if (IsAhead(line)) consider(std::max(line.due, ground.today + std::chrono::days{1}));
  }
  for (const Date day : QuestionDays(ground.timeline, ground.today)) consider(day);
  for (const Segment& segment : ground.timeline.Segments()) consider(segment.first);
  return next == kForEver ? std::nullopt : std::optional{next};
}

// The day's end, an hour that a care waits for, or what becomes known later.
Instant HoldsUntil(const Ground& ground, const std::vector<Item>& items) {
  Instant until = std::min(ground.turn.EndOf(ground.today), ground.known.news);
  for (const Item& item : items) {
    const std::optional<Pending>& pending = item.verdict.pending;
    if (!pending || !pending->not_before) continue;
    if (*pending->not_before > ground.asked) until = std::min(until, *pending->not_before);
  }
  return until;
}

// Gone ends all: what was settled on the day stays to be seen.
void KeepSettled(Schedule& schedule) {
  std::erase_if(schedule.lines, [](const CareLine& line) { return !line.Settled(); });
  schedule.questions.clear();
  schedule.next_change.reset();
}

}  // namespace

std::string_view ToText(CareState state) {
  switch (state) {
    case CareState::kNotYet:
      return "not yet";
    case CareState::kOpen:
      return "open";
    case CareState::kDue:
      return "due";
    case CareState::kLate:
      return "late";
    case CareState::kDone:
      return "done";
    case CareState::kSkipped:
      return "skipped";
    case CareState::kRetired:
      return "retired";
    case CareState::kNotDone:
      return "not done";
  }
  return "unknown";
}

std::vector<CareKind> WholeOf(const CareLine& line) {
  std::vector<CareKind> kinds = line.kinds;
  if (!line.care) return kinds;
  for (const CareKind kind : line.care->brings) {
    if (!Contains(kinds, kind)) kinds.push_back(kind);
  }
  return kinds;
}

Schedule ScheduleAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  const Ground ground(wheel, calendar, asked);
  Schedule schedule;
  schedule.standing = StandingOn(ground.known, ground.timeline, ground.today);
  schedule.standing.gone = wheel.gone && *wheel.gone <= asked;
  std::vector<Item> items = ItemsToday(ground);
  std::ranges::move(AgreedItems(ground, items), std::back_inserter(items));
  schedule.lines = LinesOf(ground, items);
  NameWhatWasLeft(ground, schedule);
  schedule.questions = QuestionsOn(ground.known, ground.timeline, ground.today, WaitingKinds(items));
  schedule.next_change = NextChange(ground, schedule);
  schedule.holds_until = HoldsUntil(ground, items);
  if (schedule.standing.gone) KeepSettled(schedule);
  return schedule;
}

std::vector<CareLine> NotDoneAt(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  const Ground ground(wheel, calendar, asked);
  return NotDoneBefore(ground, ground.timeline.IndexAtOrAfter(ground.today));
}

}  // namespace rindwatch::rules
