#include "daemon/api/qualifying_age.hpp"

#include <algorithm>

#include "rules/ahead/way.hpp"
#include "rules/care/known.hpp"
#include "rules/care/standing.hpp"
#include "rules/care/timeline.hpp"

namespace rindwatch {

using rules::Date;
using rules::StateFrom;
using std::chrono::days;

namespace {

void Add(std::vector<StateFrom>& states, Date from, const rules::Stage& stage) {
  if (!states.empty() && states.back().state == stage.state && states.back().counts == stage.counts) return;
  states.push_back({from, stage.state, stage.counts});
}

// The stages after `now`, as its way has them.
void AddStatesToCome(const WheelRow& wheel, const rules::CareCalendar& calendar, rules::Instant now,
                     std::vector<StateFrom>& states) {
  for (const rules::WayStage& coming : rules::WayOf(wheel.History(), calendar, now)) {
    if (coming.from > calendar.turn.DayOf(now)) Add(states, coming.from, *coming.stage);
  }
}

std::optional<Date> StartOf(const WheelRow& wheel, rules::StartKind kind, rules::Instant now) {
  const rules::Known known = rules::StandingKnownAt(wheel.History(), now);
  const rules::StartEvent* start = known.StartOf(kind);
  return start ? std::optional(start->day) : std::nullopt;
}

}  // namespace

std::vector<StateFrom> StatesOf(const Book& book, const WheelRow& wheel, Date from, rules::Instant now) {
  const rules::CareCalendar calendar = book.CalendarOf(book.PlaceOf(wheel).cave);
  const rules::DayTurn& turn = calendar.turn;
  const auto known = rules::StandingKnownAt(wheel.History(), now);
  const rules::Timeline timeline(known, turn);
  const Date today = turn.DayOf(now);
  std::vector<StateFrom> states;
  for (Date day = from; day <= today; day += days{1}) {
    const rules::Standing standing = rules::StandingOn(known, timeline, day);
    if (standing.stage) Add(states, day, *standing.stage);
  }
  AddStatesToCome(wheel, calendar, now, states);
  return states;
}

rules::QualifyingAge AgeOf(const Book& book, const WheelRow& wheel, const rules::QualifyingRule& rule,
                           const std::vector<rules::DayOfAir>& air, rules::Instant now) {
  const auto start = StartOf(wheel, rule.start, now);
  const Date today = book.Home().DayOf(now);
  std::vector<StateFrom> states;
  if (start) states = StatesOf(book, wheel, *start, now);
  return rules::QualifyingAgeOf(rule, start, today, air, states, book.VouchesOf(wheel));
}

void AgesOf(const ApiContext& context, const std::vector<rules::WheelId>& wheels,
            std::function<void(QualifyingAges)> done) {
  std::vector<rules::WheelId> ruled;
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = context.book().Wheel(id);
    if (wheel && context.book().RuleOf(*wheel)) ruled.push_back(id);
  }
  if (ruled.empty()) return done({});
  AirDaysOf(context, ruled, [context, ruled, done = std::move(done)](const AirDays& air) {
    const Book& book = context.book();
    QualifyingAges ages;
    for (const rules::WheelId id : ruled) {
      // The book may have changed while the store was asked.
      const WheelRow* wheel = book.Wheel(id);
      const auto* rule = wheel ? book.RuleOf(*wheel) : nullptr;
      if (!rule) continue;
      const auto recorded = air.find(id);
      ages[id] = AgeOf(book, *wheel, *rule->value,
                       recorded == air.end() ? std::vector<rules::DayOfAir>{} : recorded->second, context.now());
    }
    done(std::move(ages));
  });
}

}  // namespace rindwatch
