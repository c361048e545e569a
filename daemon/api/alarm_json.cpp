#include <algorithm>
#include <limits>
#include <set>
#include <tuple>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/day_mean.hpp"
#include "daemon/api/days_lost.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/gas_grade.hpp"
#include "daemon/api/inside_end.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/step_end.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/api/within.hpp"
#include "daemon/words/alarm_word.hpp"
#include "rules/alarms/ahead.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::size_t kMostForeseen = 50;

struct Touched {
  std::string family, cave, state;
  const rules::Matter* matter = nullptr;  // by when it comes to them
  std::size_t count = 0;
  int hardiness = 0, age = 0;
  double grams = 0;
  std::optional<double> own;  // the furthest that one of them came
};

// The forecast that names the wheel; null: none does.
const rules::Matter* MatterOf(const rules::Alarm& alarm, rules::WheelId wheel) {
  const auto names = [wheel](const rules::Matter& matter) { return std::ranges::count(matter.wheels, wheel) > 0; };
  const auto found = std::ranges::find_if(alarm.matters, names);
  return found == alarm.matters.end() ? nullptr : &*found;
}

void AddOwn(const rules::Alarm& alarm, rules::WheelId wheel, Touched& group) {
  for (const rules::OwnFurthest& own : alarm.own) {
    if (std::ranges::count(own.wheels, wheel) == 0) continue;
    const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
    if (!group.own || (cold ? own.value < *group.own : own.value > *group.own)) group.own = own.value;
  }
}

// Wheels by family, place, state and forecast: "6 bloomies, Box 1".
std::vector<Touched> Grouped(const Book& book, const rules::Alarm& alarm, const std::vector<rules::WheelId>& wheels,
                             rules::Instant now) {
  std::vector<Touched> groups;
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = book.Wheel(id);
    if (!wheel) continue;
    const Place place = book.PlaceOf(*wheel);
    const auto standing = rules::StandingAt(wheel->History(), book.CalendarOf(place.cave), now);
    const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
    const std::string family = standing.plan ? ShortFamily(*standing.plan) : "";
    const std::string where = cave ? cave->name : "", state = StateWord(book, *wheel, standing);
    const rules::Matter* matter = MatterOf(alarm, id);
    const auto same = std::ranges::find_if(groups, [&](const Touched& group) {
      return std::tie(group.family, group.cave, group.state, group.matter) == std::tie(family, where, state, matter);
    });
    Touched* group = nullptr;
    if (same != groups.end()) {
      group = &*same;
      ++group->count;
    } else {
      group =
          &groups.emplace_back(Touched{family, where, state, matter, 1, standing.plan ? standing.plan->hardiness : 0,
                                       standing.age, book.WeightOf(*wheel).value, std::nullopt});
    }
    AddOwn(alarm, id, *group);
  }
  // The most delicate first, then the youngest.
  std::ranges::stable_sort(groups, {}, [](const Touched& group) { return std::tuple(group.hardiness, group.age); });
  return groups;
}

json::object GroupJson(const Touched& group) {
  return {{"count", group.count}, {"family", group.family}, {"cave_name", group.cave}, {"state", group.state}};
}

// Those that it touches.
json::array TouchedJson(const Book& book, const rules::Alarm& alarm, rules::Instant now) {
  rules::Alarm plain = alarm;
  plain.matters.clear();
  json::array array;
  for (const Touched& group : Grouped(book, plain, alarm.wheels, now)) array.push_back(GroupJson(group));
  return array;
}

// A forecast is made when it rings and now and then after; what has passed since is taken off.
rules::Millis SinceForecast(const rules::Alarm& alarm, rules::Instant now) {
  using std::chrono::minutes;
  const rules::Millis passed = std::max(now - alarm.raised, rules::Millis{0});
  return passed % (passed > minutes{360} ? minutes{60} : minutes{15});
}

// Of a box with a probe of its own the alarm of its fridge foresees nothing, and of silence nothing at all. It is
// foreseen when an alarm's own wheels are, so that an answer says what the one before it said.
rules::Alarm AsForeseen(const ApiContext& context, rules::Alarm alarm) {
  const bool foreseen = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kPowerGone;
  if (!foreseen || alarm.over || alarm.why == rules::Why::kPlanStep) return alarm;
  ForecastMemory& memory = *context.forecasts;
  const rules::Instant now = context.now();
  const rules::Instant due = now - SinceForecast(alarm, now);
  auto kept = memory.find(alarm.id);
  if (kept == memory.end() || now < kept->second.at || kept->second.at < due) {
    if (memory.size() > kMostForeseen) memory.clear();
    kept = memory.insert_or_assign(alarm.id, Foreseen{now, MattersWithin(context.watch.Engine(), alarm, now)}).first;
  }
  // What the alarm itself foresees is of the instant that was due, and what has passed since is taken off all alike.
  const rules::Millis later = kept->second.at - due;
  for (rules::Matter matter : kept->second.matters) {
    if (matter.soonest > rules::Millis{0} && !matter.IsFar()) matter.soonest += later;
    if (matter.latest && *matter.latest > rules::Millis{0}) *matter.latest += later;
    alarm.matters.push_back(std::move(matter));
  }
  return alarm;
}

// Those that it touches or comes to; once it is over, those that it touched.
std::vector<rules::WheelId> Concerned(const rules::Alarm& alarm) {
  std::vector<rules::WheelId> wheels = alarm.wheels;
  if (alarm.over) return wheels;
  for (const rules::Matter& matter : alarm.matters) {
    for (const rules::WheelId id : matter.wheels) {
      if (std::ranges::count(wheels, id) == 0) wheels.push_back(id);
    }
  }
  return wheels;
}

// Once it is over: those that came furthest first, as it had come to them.
void FurthestFirst(const rules::Alarm& alarm, std::vector<Touched>& groups) {
  const double sign = alarm.kind == rules::AlarmKind::kTooCold ? 1 : -1;
  std::ranges::stable_sort(groups, {}, [sign](const Touched& group) {
    return group.own ? sign * *group.own : std::numeric_limits<double>::infinity();
  });
}

// The same, the first first: "6 bloomies, Box 1: in 1 to 2 h".
json::array ConcernsJson(const Book& book, const rules::Alarm& alarm, rules::Instant now) {
  const std::vector<rules::WheelId> wheels = Concerned(alarm);
  std::vector<Touched> groups = Grouped(book, alarm, wheels, now);
  std::ranges::stable_sort(groups, {}, [](const Touched& group) {
    constexpr rules::Millis kNever = rules::Millis::max();
    if (!group.matter) return std::pair(kNever, kNever);
    return std::pair(group.matter->soonest, group.matter->latest.value_or(kNever));
  });
  if (alarm.over) FurthestFirst(alarm, groups);
  const rules::Millis passed = SinceForecast(alarm, now);
  const auto left = [passed](rules::Millis span) { return std::max(span - passed, rules::Millis{0}).count(); };
  json::array array;
  for (const Touched& group : groups) {
    json::object object = GroupJson(group);
    if (group.grams > 0) object["grams"] = group.grams;
    SetNumber(object, "own", group.own);
    if (group.matter) object["soonest"] = left(group.matter->soonest);
    if (group.matter && group.matter->IsFar()) object["soonest"] = group.matter->soonest.count();
    if (group.matter && group.matter->latest) object["latest"] = left(*group.matter->latest);
    array.push_back(std::move(object));
  }
  return array;
}

// What it is judged by, as it is now; none: it is of no air, or one probe says so alone.
std::optional<rules::ChannelView> AirNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why == rules::Why::kOneProbe) return std::nullopt;
  switch (alarm.kind) {
    case rules::AlarmKind::kTooWarm:
    case rules::AlarmKind::kTooCold:
      return context.watch.View(alarm.cave).temperature;
    case rules::AlarmKind::kTooDry:
    case rules::AlarmKind::kTooDamp:
      return context.watch.View(alarm.cave).humidity;
    default:
      return std::nullopt;
  }
}

// Of probes that contradict each other the one that counts says this.
double WorstSaid(const rules::Alarm& alarm) {
  if (alarm.said.empty()) return alarm.extreme;
  const auto [least, most] = std::ranges::minmax(alarm.said, {}, &rules::ProbeSaid::value);
  const bool high = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooDamp;
  return high ? most.value : least.value;
}

std::optional<double> MeanNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why == rules::Why::kOneProbe) return WorstSaid(alarm);
  // "Still 15.8": what the probe says now.
  if (Asks(alarm.kind, alarm.why)) return context.watch.View(alarm.cave).temperature.latest.value_or(alarm.value);
  if (rules::IsGas(alarm.kind) && !IsGasKnown(context, alarm)) return std::nullopt;
  const auto air = AirNow(context, alarm);
  return air ? air->mean : alarm.value;
}

int TrendNow(const ApiContext& context, const rules::Alarm& alarm) {
  const auto air = AirNow(context, alarm);
  return air ? air->trend : 0;
}

std::optional<rules::Knowing> CourseNow(const ApiContext& context, const rules::Alarm& alarm) {
  const std::optional<double> now = MeanNow(context, alarm);
  return now ? rules::CourseOf(alarm, *now, TrendNow(context, alarm)) : std::nullopt;
}

// Boxes inside its cave that follow later: still out on that side.
json::array StillOut(const ApiContext& context, const rules::Alarm& alarm) {
  json::array names;
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm;
  if (!warm && alarm.kind != rules::AlarmKind::kTooCold) return names;
  for (const CaveRow* box : context.book().Caves()) {
    if (box->id == alarm.cave || !IsWithin(context.book(), box->id, alarm.cave)) continue;
    const rules::ChannelView air = context.watch.View(box->id).temperature;
    if (!air.borrowed && air.state == rules::CaveState::kOutOfBand && (air.side > 0) == warm)
      names.push_back(json::string(box->name));
  }
  return names;
}

json::array FirstThings(const ApiContext& context, const rules::Alarm& alarm) {
  // Of two gases at one door the worse one is obeyed.
  if (const auto worse = WorseGasBeside(context, alarm)) return FirstThings(context, *worse);
  const std::string* called = context.book().CalledAs(alarm.id);
  const CaveRow* cave = context.book().Cave(alarm.cave);
  const rules::Knowing knowing =
      rules::KnownOf(alarm, called ? std::string_view{*called} : std::string_view{}, context.watch.Engine().Alarms(),
                     CourseNow(context, alarm), context.now(),
                     {.gas = DarkensGas(context.book(), alarm) || StandsInGas(context, alarm.cave),
                      .ready = cave && cave->watching_now.ready_cheese,
                      .unheard = context.broker && context.broker->WhyAway(),
                      .apart = !context.watch.View(alarm.cave).does_not_suit.empty()});
  std::vector<std::string> steps = FirstSteps(context.words, alarm.kind, knowing, cave ? ToText(cave->kind) : "");
  if (!DarkensGas(context.book(), alarm) && !steps.empty() && IsHeardBeside(context, alarm))
    steps.back() = context.words.Say("first.probe silent beside");
  json::array things;
  for (const std::string& step : steps) things.push_back(json::string(step));
  return things;
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
    const rules::Millis passed = SinceForecast(alarm, now);
    const auto left = [passed](rules::Millis span) { return std::max(span - passed, rules::Millis{0}).count(); };
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
  if (!alarm.over && !alarm.matters.empty()) object["matters"] = MattersJson(context.book(), alarm, context.now());
  const rules::Alarm foreseen = AsForeseen(context, alarm);
  object["concerns"] = ConcernsJson(context.book(), foreseen, context.now());
  if (!alarm.over && !foreseen.matters.empty()) object["as_of"] = ToMillis(context.now());
  json::array uncounted;
  for (const rules::Date day : DaysLost(context.book(), alarm)) uncounted.push_back(json::string(ToText(day)));
  if (!uncounted.empty() || CostsNoDay(context.book(), alarm)) object["uncounted"] = std::move(uncounted);
  SetNumber(object, "before", alarm.before);
  SetNumber(object, "warmest", alarm.warmest);
  AddDated(object, DatedOf(context.watch, alarm));
  if (std::string edges = EdgesSay(context, alarm); !edges.empty()) object["edges"] = std::move(edges);
  if (alarm.suppressed) object["quiet"] = true;
  if (alarm.over && EndedUnseen(context.book(), alarm.id)) object["unseen"] = true;
  AddTeller(object, context, alarm);
  if (std::string day = DayMeanWords(context, alarm); !day.empty()) object["day_mean"] = std::move(day);
  std::string ended = StepEndWords(context, alarm);
  if (const std::string inside = InsideEndWords(context, alarm); !inside.empty())
    ended += (ended.empty() ? "" : " ") + inside;
  if (!ended.empty()) object["ended_by"] = std::move(ended);
  if (alarm.cause) object["cause"] = rules::ToText(*alarm.cause);
  if (json::array said = SaidJson(context.book(), alarm); !said.empty()) object["said"] = std::move(said);
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
  if (const auto names = MayBeIn(context, alarm)) {
    json::array here;
    for (const std::string& name : *names) here.push_back(json::string(name));
    object["here_by"] = std::move(here);
  }
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

std::size_t WheelsConcerned(const ApiContext& context, const rules::Alarm& alarm) {
  return Concerned(AsForeseen(context, alarm)).size();
}

bool IsBackInBand(const ApiContext& context, const rules::Alarm& alarm) {
  const auto now = MeanNow(context, alarm);
  return CourseNow(context, alarm) == rules::Knowing::kBack || (now && rules::EndsAt(alarm, *now));
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
                      {"value", alarm.value},
                      {"extreme", FurthestOf(book, alarm)},
                      {"dose", alarm.dose},
                      {"wheels", TouchedJson(book, alarm, context.now())},
                      {"first", FirstThings(context, alarm)},
                      {"found_later", alarm.found_later},
                      {"why", rules::ToText(alarm.why)}};
  // While it lasts, what is judged now; afterwards what rang.
  if (!alarm.over) SetNumber(object, "value", MeanNow(context, alarm));
  // What people breathe is not told from memory.
  if (!alarm.over && rules::IsGas(alarm.kind) && !IsGasKnown(context, alarm)) object.erase("value");
  json::array warnings;
  for (const std::string& warning : WarningsOf(context, alarm)) warnings.push_back(json::string(warning));
  if (!warnings.empty()) object["warnings"] = std::move(warnings);
  AddGas(object, context, alarm);
  if (const int trend = alarm.over ? 0 : TrendNow(context, alarm); trend != 0) object["trend"] = trend;
  const auto course = CourseNow(context, alarm);
  if (course == rules::Knowing::kTurning) object["eases"] = true;
  if (course == rules::Knowing::kBack) {
    object["inside"] = true;
    if (json::array boxes = StillOut(context, alarm); !boxes.empty()) object["still_out"] = std::move(boxes);
  }
  if (const auto now = MeanNow(context, alarm)) SetNumber(object, "ends_at", rules::EndsAt(alarm, *now));
  if (!alarm.over && (object.contains("inside") || object.contains("ends_at")))
    SetAt(object, "inside_since", alarm.inside_since);
  SetAt(object, "taken", alarm.taken);
  SetAt(object, "over", alarm.over);
  SetAt(object, "back_since", alarm.back_since);
  if (alarm.struck) object["struck"] = true;
  SetAt(object, "aside_until", alarm.aside_until);
  SetSpan(object, "band", alarm.band);
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
