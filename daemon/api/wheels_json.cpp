#include <algorithm>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/wheel_state_json.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "rules/plans/kinds.hpp"
#include "rules/plans/ready.hpp"

namespace rindwatch {

namespace json = boost::json;
using std::chrono::days;

namespace {

void AddNext(json::object& into, const rules::Schedule& schedule) {
  const rules::CareLine* next = nullptr;
  for (const rules::CareLine& line : schedule.lines) {
    const bool pending =
        line.OnRound() || line.state == rules::CareState::kNotYet || line.state == rules::CareState::kOpen;
    if (pending && (!next || line.due < next->due)) next = &line;
  }
  if (!next) return;
  json::object object{{"kinds", KindsJson(next->kinds)}, {"due", DayJson(next->due)}};
  if (next->late_since) object["late_since"] = DayJson(*next->late_since);
  into["next"] = std::move(object);
}

// Day 0 of the ready window: the event that the plan counts it from, as known or as it usually comes.
rules::Date ReadyStart(const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  const std::vector<rules::Part>& parts = standing.plan->parts;
  if (parts[standing.part].start == standing.plan->ready_from) return standing.part_start;
  rules::Date start = MadeOn(wheel).value_or(standing.part_start);
  for (std::size_t part = 1; part < parts.size() && parts[part - 1].start != standing.plan->ready_from; ++part) {
    start = StartOfPart(book, wheel, *standing.plan, part, start);
  }
  return start;
}

// The day on which a kind was first done, from a day on.
std::optional<rules::Date> FirstDoing(const Book& book, const WheelRow& wheel, rules::CareKind kind,
                                      rules::Date since) {
  std::optional<rules::Date> first;
  for (const rules::CareAct& act : wheel.History().acts) {
    const rules::Date day = book.Home().DayOf(act.at);
    const bool earlier = day >= since && (!first || day < *first);
    if (earlier && act.done.Has(kind) && !book.IsUndone(act.id, wheel.id)) first = day;
  }
  return first;
}

void AddReady(json::object& object, const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  std::vector<rules::BranchAnswer> given = wheel.History().branches;
  std::ranges::stable_sort(given, {}, &rules::BranchAnswer::at);
  std::vector<std::string_view> answers;
  for (const rules::BranchAnswer& answer : given) {
    if (!book.IsUndone(answer.id, wheel.id)) answers.push_back(answer.option);
  }
  const auto& ready = rules::ReadyDays(*standing.plan, answers);
  if (!ready) return;
  const rules::Date from = ReadyStart(book, wheel, standing);
  object["ready"] = {{"from", DayJson(from + days{static_cast<int>(ready->low)})},
                     {"to", DayJson(from + days{static_cast<int>(ready->high)})}};
}

json::object LeavingJson(const Since<Leaving>& gone) {
  json::object object{{"at", ToMillis(gone.from)}, {"how", gone.value.how}};
  if (!gone.value.to.empty()) object["to"] = gone.value.to;
  return object;
}

}  // namespace

std::optional<rules::Date> MadeOn(const WheelRow& wheel) {
  return wheel.History().starts.empty() ? std::nullopt : std::optional(wheel.History().starts.front().day);
}

rules::Date StartOfPart(const Book& book, const WheelRow& wheel, const rules::Plan& plan, std::size_t part,
                        rules::Date before) {
  for (const rules::StartEvent& start : wheel.History().starts) {
    if (start.kind == plan.parts[part].start && !book.IsUndone(start.id, wheel.id)) return start.day;
  }
  if (const auto kind = rules::BegunBy(plan.parts[part])) {
    if (const auto day = FirstDoing(book, wheel, *kind, before)) return *day;
  }
  const auto& usual = plan.parts[part].usual_days;
  return before + days{usual ? static_cast<int>(usual->high) : 0};
}

rules::Schedule ScheduleOf(const ApiContext& context, const WheelRow& wheel) {
  return rules::ScheduleAt(wheel.History(), context.book().CalendarOf(context.book().PlaceOf(wheel).cave),
                           context.now());
}

json::object WheelSummary(const ApiContext& context, const WheelRow& wheel, const rules::Schedule& schedule) {
  const Book& book = context.book();
  const rules::Standing& standing = schedule.standing;
  const Place place = book.PlaceOf(wheel);
  const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
  json::object object{{"id", wheel.id},
                      {"name", book.WheelName(wheel)},
                      {"lot", LotName(book, wheel)},
                      {"family", standing.plan->family},
                      {"plan", {{"id", standing.plan->id}, {"version", standing.plan->version}}},
                      {"rind", rules::ToText(standing.plan->rind)},
                      {"place", PlaceName(book, cave, place.shelf)},
                      {"age", standing.age},
                      {"made", DayJson(MadeOn(wheel).value_or(standing.part_start))},
                      {"counts_from",
                       {{"start", rules::ToText(standing.plan->parts[standing.part].start)},
                        {"day", DayJson(standing.part_start)},
                        {"reckoned", standing.reckoned}}},
                      {"day", standing.day},
                      {"stage", standing.stage ? standing.stage->name : std::string{}},
                      {"state", StateWord(book, wheel, standing)},
                      {"past_plan", standing.past_plan}};
  if (cave) object["cave"] = cave->id;
  AddState(object, book, wheel, standing);
  if (const Since<Leaving>* gone = book.GoneBy(wheel)) {
    object["gone"] = LeavingJson(*gone);
    return object;
  }
  AddNext(object, schedule);
  AddReady(object, book, wheel, standing);
  return object;
}

json::object WheelsJson(const ApiContext& context) {
  json::array wheels;
  for (const WheelRow* wheel : context.book().Wheels()) {
    const rules::Schedule schedule = ScheduleOf(context, *wheel);
    // By a clock that stepped back a wheel may not be in the book yet.
    if (schedule.standing.plan) wheels.push_back(WheelSummary(context, *wheel, schedule));
  }
  return {{"head", HeadJson(context)}, {"wheels", std::move(wheels)}, {"gone", context.book().GoneCount()}};
}

json::object GoneJson(const ApiContext& context) {
  const Book& book = context.book();
  json::array wheels;
  for (const WheelRow* wheel : book.GoneWheels()) {
    wheels.push_back({{"id", wheel->id},
                      {"name", book.WheelName(*wheel)},
                      {"lot", LotName(book, *wheel)},
                      {"family", book.FamilyOf(*wheel)},
                      {"gone", LeavingJson(*book.GoneBy(*wheel))}});
  }
  return {{"head", HeadJson(context)}, {"wheels", std::move(wheels)}};
}

}  // namespace rindwatch
