#include <algorithm>
#include <set>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/band_for.hpp"
#include "daemon/api/concerned.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/day_mean.hpp"
#include "daemon/api/days_lost.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/ending.hpp"
#include "daemon/api/first_things.hpp"
#include "daemon/api/freezing.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/gas_grade.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/warnings.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::object GroupJson(const Concern& group) {
  return {{"count", group.count}, {"family", group.family}, {"cave_name", group.cave}, {"state", group.state}};
}

// Those that it touches.
json::array TouchedJson(const Book& book, const rules::Alarm& alarm, rules::Instant now) {
  json::array array;
  for (const Concern& group : Touched(book, alarm, now)) array.push_back(GroupJson(group));
  return array;
}

json::array ConcernsJson(const ApiContext& context, const rules::Alarm& foreseen) {
  json::array array;
  for (const Concern& group : Concerns(context, foreseen)) {
    json::object object = GroupJson(group);
    if (group.grams > 0) object["grams"] = group.grams;
    SetNumber(object, "own", group.own);
    if (group.own) SetSpan(object, "keep", group.keep);
    if (group.as_before) object["as_before"] = true;
    SetSpan(object, "past", group.past);
    if (group.soonest) object["soonest"] = group.soonest->count();
    if (group.latest) object["latest"] = group.latest->count();
    array.push_back(std::move(object));
  }
  return array;
}

json::array Strings(const std::vector<std::string>& texts) {
  json::array array;
  for (const std::string& text : texts) array.push_back(json::string(text));
  return array;
}

// By family alone: where they lie stands beside the alarm.
json::array FamiliesJson(const Book& book, const std::vector<rules::WheelId>& wheels, rules::Instant now) {
  std::vector<std::pair<std::string, std::size_t>> families;
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = book.Wheel(id);
    if (!wheel) continue;
    const auto standing = rules::StandingAt(wheel->History(), book.CalendarOf(book.PlaceOf(*wheel).cave), now);
    const std::string family = standing.plan ? ShortFamily(*standing.plan) : "";
    const auto same = std::ranges::find(families, family, [](const auto& one) { return one.first; });
    if (same != families.end())
      ++same->second;
    else
      families.emplace_back(family, 1);
  }
  json::array array;
  for (const auto& [family, count] : families) array.push_back({{"count", count}, {"family", family}});
  return array;
}

json::array MattersJson(const Book& book, const rules::Alarm& alarm, rules::Instant now) {
  json::array array;
  for (const rules::Matter& matter : alarm.matters) {
    if (matter.IsFar()) continue;
    const auto left = [&](rules::Millis span) { return LeftOf(alarm, span, now).count(); };
    json::object one{{"soonest", left(matter.soonest)}, {"wheels", FamiliesJson(book, matter.wheels, now)}};
    if (matter.latest) one["latest"] = left(*matter.latest);
    array.push_back(std::move(one));
  }
  return array;
}

// Of probes that contradict each other: who says what.
json::array SaidJson(const Book& book, const rules::Alarm& alarm) {
  json::array array;
  for (const rules::ProbeSaid& said : alarm.said) {
    const ProbeRow* probe = book.Probe(said.probe);
    array.push_back(
        {{"probe", probe ? probe->name : std::string{}}, {"kind", sensors::NameOf(said.kind)}, {"value", said.value}});
  }
  return array;
}

// The alarm in which it is told in the end: what tells another may be told by a third one later.
std::optional<rules::Alarm> TellerOf(const ApiContext& context, const rules::Alarm& alarm) {
  std::set<std::string> seen{alarm.id};
  std::optional<rules::Alarm> teller = FindAlarm(context, alarm.told_by);
  while (teller && teller->Folded() && seen.insert(teller->id).second) {
    auto next = FindAlarm(context, teller->told_by);
    if (!next) break;
    teller = std::move(next);
  }
  return teller;
}

void AddTeller(json::object& object, const ApiContext& context, const rules::Alarm& alarm) {
  if (!alarm.Folded()) return;
  object["told_by"] = alarm.told_by;
  const auto teller = TellerOf(context, alarm);
  if (!teller) return;
  const CaveRow* cave = context.book().Cave(teller->cave);
  object["teller"] = {{"id", teller->id},
                      {"kind", rules::ToText(teller->kind)},
                      {"why", rules::ToText(teller->why)},
                      {"cave_name", cave ? cave->name : std::string{}}};
}

void AddDated(json::object& object, const DatedSilence& dated) {
  const auto span = [](const Gap& gap) { return json::object{{"from", ToMillis(gap.from)}, {"to", ToMillis(gap.to)}}; };
  if (dated.within) object["unwatched"] = span(*dated.within);
  if (!dated.begun) return;
  object["unwatched_first"] = span(*dated.begun);
  object["told_since"] = ToMillis(dated.Since());
}

// What only some alarms tell.
void AddMore(json::object& object, const ApiContext& context, const rules::Alarm& alarm) {
  if (!alarm.over && !alarm.matters.empty() && !IsAirUnknown(context, alarm))
    object["matters"] = MattersJson(context.book(), alarm, context.now());
  const rules::Alarm foreseen = AsForeseen(context, alarm);
  object["concerns"] = ConcernsJson(context, foreseen);
  if (!alarm.over && !foreseen.matters.empty()) object["as_of"] = ToMillis(context.now());
  json::array uncounted;
  for (const rules::Date day : DaysLost(context.book(), alarm)) uncounted.push_back(json::string(ToText(day)));
  if (!uncounted.empty() || CostsNoDay(context.book(), alarm)) object["uncounted"] = std::move(uncounted);
  SetNumber(object, "before", alarm.before);
  SetNumber(object, "warmest", alarm.warmest);
  AddDated(object, DatedOf(context.watch, alarm));
  if (const std::string edges = EdgesSay(context, alarm); !edges.empty()) object["edges"] = edges;
  if (alarm.suppressed) object["quiet"] = true;
  if (alarm.over && EndedUnseen(context.book(), alarm.id)) object["unseen"] = true;
  AddTeller(object, context, alarm);
  if (const std::string day = DayMeanWords(context, alarm); !day.empty()) object["day_mean"] = day;
  if (const std::string freezes = FreezingWords(context, alarm); !freezes.empty()) object["freezes"] = freezes;
  if (const std::string ended = EndingWords(context, alarm); !ended.empty()) object["ended_by"] = ended;
  if (alarm.cause) object["cause"] = rules::ToText(*alarm.cause);
  if (json::array said = SaidJson(context.book(), alarm); !said.empty()) object["said"] = std::move(said);
}

// How its air stands now and whereto it goes.
void AddCourse(json::object& object, const ApiContext& context, const rules::Alarm& alarm) {
  if (const int trend = TrendNow(context, alarm); trend != 0) object["trend"] = trend;
  const auto course = CourseNow(context, alarm);
  if (course == rules::Knowing::kTurning) object["eases"] = true;
  if (course == rules::Knowing::kBack) {
    object["inside"] = true;
    if (const auto boxes = StillOut(context, alarm); !boxes.empty()) object["still_out"] = Strings(boxes);
  }
  SetNumber(object, "ends_at", EndsAt(context, alarm));
  SetAt(object, "inside_since", InsideSince(context, alarm));
}

// Of what people breathe, while it lasts: how bad it is now, and who may be in it.
void AddGas(json::object& object, const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.over) return;
  if (DarkensGas(context.book(), alarm)) object["darkens_gas"] = true;
  if (rules::IsGas(alarm.kind)) {
    const auto grade = GasNow(context, alarm);
    object["grade"] = grade ? GradeWord(*grade) : std::string_view("unknown");
    if (WorseGasBeside(context, alarm)) object["worse_beside"] = true;
  }
  if (const auto names = MayBeIn(context, alarm)) object["here_by"] = Strings(*names);
}

// Who took it as well, and can think until told that they are the one who goes.
json::array AlsoTook(const Book::Taking& taking) {
  json::array array;
  if (taking.asks_again) return array;
  for (const Book::Took& other : taking.others)
    array.push_back({{"keeper", other.keeper}, {"at", ToMillis(other.at)}, {"arrived", ToMillis(other.received_at)}});
  return array;
}

}  // namespace

std::optional<rules::Alarm> FindAlarm(const ApiContext& context, const std::string& id) {
  const std::vector<rules::Alarm> standing = context.watch.Engine().Alarms();
  const auto found = std::ranges::find(standing, id, &rules::Alarm::id);
  return found != standing.end() ? *found : PastAlarm(context.book(), id);
}

json::object AlarmJson(const ApiContext& context, const rules::Alarm& alarm) {
  const Book& book = context.book();
  const CaveRow* cave = book.Cave(alarm.cave);
  json::object object{{"id", alarm.id},
                      {"kind", rules::ToText(alarm.kind)},
                      {"severity", rules::ToText(alarm.severity)},
                      {"cave", alarm.cave},
                      {"cave_name", cave ? cave->name : std::string{}},
                      {"since", ToMillis(alarm.since)},
                      {"raised", ToMillis(alarm.raised)},
                      {"extreme", FurthestOf(book, alarm)},
                      {"dose", alarm.dose},
                      {"wheels", TouchedJson(book, alarm, context.now())},
                      {"first", Strings(FirstThings(context, alarm))},
                      {"found_later", alarm.found_later},
                      {"why", rules::ToText(alarm.why)}};
  SetNumber(object, "value", ValueNow(context, alarm));
  if (const auto warnings = WarningsOf(context, alarm); !warnings.empty()) object["warnings"] = Strings(warnings);
  AddGas(object, context, alarm);
  AddCourse(object, context, alarm);
  SetAt(object, "taken", alarm.taken);
  SetAt(object, "over", alarm.over);
  SetAt(object, "back_since", alarm.back_since);
  if (alarm.over) object["ending"] = rules::ToText(alarm.ending);
  SetAt(object, "aside_until", alarm.aside_until);
  SetSpan(object, "band", alarm.band);
  if (!alarm.over)
    if (std::string who = BandFor(context, alarm); !who.empty()) object["band_for"] = std::move(who);
  AddMore(object, context, alarm);
  if (const ProbeRow* probe = alarm.probe ? book.Probe(*alarm.probe) : nullptr) object["probe"] = probe->name;
  if (const std::string* what = book.CalledAs(alarm.id)) object["what"] = *what;
  if (const std::string* remark = book.RemarkOn(alarm.id)) object["remark"] = *remark;
  if (const Book::Taking* taking = book.TakenBy(alarm.id); taking && alarm.taken && !taking->keeper.empty()) {
    object["taken_by"] = taking->keeper;
    if (json::array others = AlsoTook(*taking); !alarm.over && !others.empty()) object["also_took"] = std::move(others);
  }
  return object;
}

}  // namespace rindwatch
