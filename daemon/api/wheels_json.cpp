#include <algorithm>

#include "daemon/api/json.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/wheel_state_json.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch {

namespace json = boost::json;

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

json::object WindowJson(const rules::ReadyWindow& window) {
  return {{"from", DayJson(window.from)}, {"to", DayJson(window.to)}};
}

void AddReady(json::object& object, const ApiContext& context, const WheelRow& wheel) {
  const auto windows = ReadyWindowsOf(context, wheel);
  if (windows.empty()) return;
  json::object ready = WindowJson(windows.front());
  if (windows.size() > 1) ready["young"] = WindowJson(windows.back());
  object["ready"] = std::move(ready);
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

std::vector<rules::ReadyWindow> ReadyWindowsOf(const ApiContext& context, const WheelRow& wheel) {
  const auto calendar = context.book().CalendarOf(context.book().PlaceOf(wheel).cave);
  return rules::ReadyWindowsOf(wheel.History(), calendar, context.now());
}

bool IsReady(const ApiContext& context, const WheelRow& wheel) {
  const rules::Date today = context.book().Home().DayOf(context.now());
  return std::ranges::any_of(ReadyWindowsOf(context, wheel), [&](const auto& window) { return window.from <= today; });
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
  if (const auto since = SinceOf(standing)) object["since"] = rules::ToText(*since);
  AddState(object, book, wheel, standing);
  if (const Since<Leaving>* gone = book.GoneBy(wheel)) {
    object["gone"] = LeavingJson(*gone);
    return object;
  }
  AddNext(object, schedule);
  AddReady(object, context, wheel);
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
