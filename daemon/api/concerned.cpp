#include "daemon/api/concerned.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <tuple>

#include "daemon/api/course.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/wheel_air.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {
namespace {

constexpr std::size_t kMostForeseen = 50;

struct Group {
  Concern told;
  std::optional<rules::CaveId> cave{};    // where they lie
  const rules::Matter* matter = nullptr;  // by when it comes to them
  int hardiness = 0, age = 0;
};

// The forecast that names the wheel; null: none does.
const rules::Matter* MatterOf(const rules::Alarm& alarm, rules::WheelId wheel) {
  const auto names = [wheel](const rules::Matter& matter) { return std::ranges::count(matter.wheels, wheel) > 0; };
  const auto found = std::ranges::find_if(alarm.matters, names);
  return found == alarm.matters.end() ? nullptr : &*found;
}

void AddOwn(const rules::Alarm& alarm, rules::WheelId wheel, Concern& told) {
  for (const rules::OwnFurthest& own : alarm.own) {
    if (std::ranges::count(own.wheels, wheel) == 0) continue;
    const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
    if (!told.own || (cold ? own.value < *told.own : own.value > *told.own)) told.own = own.value;
  }
}

// Only of what is over: while it lasts a forecast says when it comes to them.
std::optional<rules::Figure> KeepOf(const Book& book, const rules::Alarm& alarm, const WheelRow& wheel) {
  if (!alarm.over || alarm.own.empty()) return std::nullopt;
  return BandAt(book, wheel, alarm.LastedUntil());
}

// Where wheels lay before anything happened: those that their place does not suit, and what its air was in the days
// before.
struct LyingBefore {
  std::vector<rules::WheelId> unsuited{};
  std::map<rules::CaveId, double> air{};
};

// It wants its air cooler than the place is kept: it lay past its band before this event, and no forecast of that is
// one of when it comes to that wheel.
std::optional<rules::Figure> PastOf(const Book& book, const rules::Alarm& alarm, const WheelRow& wheel,
                                    const LyingBefore& before, rules::Instant now) {
  const bool warms = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kPowerGone;
  if (alarm.over || !warms) return std::nullopt;
  const std::optional<rules::Figure> own = BandAt(book, wheel, now);
  if (!own || (alarm.band && own->high >= alarm.band->high)) return std::nullopt;
  const bool unsuited = std::ranges::count(before.unsuited, wheel.id) > 0;
  const auto usual = before.air.find(book.PlaceOf(wheel).cave.value_or(0));
  constexpr double kClearly = 0.5;  // K
  const bool lay_past = usual != before.air.end() && usual->second > own->high + kClearly;
  const bool apart = alarm.band && own->high < alarm.band->low;
  return apart || (alarm.band && unsuited) || lay_past ? own : std::nullopt;
}

// What its air was in the days before: its own probes', else those around it.
std::optional<double> UsualAir(const ApiContext& context, rules::CaveId id) {
  const Book& book = context.book();
  for (const CaveRow* cave = book.Cave(id); cave; cave = cave->inside ? book.Cave(*cave->inside) : nullptr)
    if (const auto usual = rules::DaysBeforeOf(context.watch.Engine(), cave->id, context.now())) return usual;
  return std::nullopt;
}

// The air around it lies beyond its band on the same side, as it did in the days before.
bool LiesBeyond(const ApiContext& context, const rules::Alarm& alarm, const Concern& told, rules::CaveId cave) {
  if (!alarm.over || !told.keep || !told.LeftBand().value_or(false)) return false;
  // What the air is today proves nothing of long ago.
  if (context.now() - *alarm.over > std::chrono::hours{24}) return false;
  const rules::ChannelView air = context.watch.View(cave).temperature;
  const auto usual = UsualAir(context, cave);
  if (!air.mean || air.state == rules::CaveState::kUnknown || !usual) return false;
  if (alarm.kind == rules::AlarmKind::kTooCold) return std::max(*air.mean, *usual) < told.keep->low;
  return std::min(*air.mean, *usual) > told.keep->high;
}

LyingBefore Before(const ApiContext& context) {
  LyingBefore before;
  for (const CaveRow* cave : context.book().Caves()) {
    std::ranges::copy(context.watch.View(cave->id).does_not_suit, std::back_inserter(before.unsuited));
    if (const auto usual = UsualAir(context, cave->id)) before.air.emplace(cave->id, *usual);
  }
  return before;
}

bool SameBand(const std::optional<rules::Figure>& a, const std::optional<rules::Figure>& b) {
  return a.has_value() == b.has_value() && (!a || std::tie(a->low, a->high) == std::tie(b->low, b->high));
}

// Wheels by family, place, state and forecast: "6 bloomies, Box 1".
std::vector<Group> Grouped(const Book& book, const rules::Alarm& alarm, const std::vector<rules::WheelId>& wheels,
                           rules::Instant now, const LyingBefore& before = {}) {
  std::vector<Group> groups;
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = book.Wheel(id);
    if (!wheel) continue;
    const Place place = book.PlaceOf(*wheel);
    const auto standing = rules::StandingAt(wheel->History(), book.CalendarOf(place.cave), now);
    const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
    const std::string family = standing.plan ? ShortFamily(*standing.plan) : "";
    const std::string where = cave ? cave->name : "", state = StateWord(book, *wheel, standing);
    const std::optional<rules::Figure> past = PastOf(book, alarm, *wheel, before, now);
    const rules::Matter* matter = past ? nullptr : MatterOf(alarm, id);
    const std::optional<rules::Figure> keep = KeepOf(book, alarm, *wheel);
    const auto same = std::ranges::find_if(groups, [&](const Group& group) {
      return std::tie(group.told.family, group.told.cave, group.told.state, group.matter) ==
                 std::tie(family, where, state, matter) &&
             SameBand(group.told.keep, keep) && SameBand(group.told.past, past);
    });
    Group* group = nullptr;
    if (same != groups.end()) {
      group = &*same;
      ++group->told.count;
    } else {
      const Concern told{family, where, state, 1, book.WeightOf(*wheel).value, {}, {}, {}, keep, false, past};
      group = &groups.emplace_back(
          Group{told, place.cave, matter, standing.plan ? standing.plan->hardiness : 0, standing.age});
    }
    AddOwn(alarm, id, group->told);
  }
  // The most delicate first, then the youngest.
  std::ranges::stable_sort(groups, {}, [](const Group& group) { return std::tuple(group.hardiness, group.age); });
  return groups;
}

// A forecast is made when it rings and now and then after; what has passed since is taken off.
rules::Millis SinceForecast(const rules::Alarm& alarm, rules::Instant now) {
  using std::chrono::minutes;
  const rules::Millis passed = std::max(now - alarm.raised, rules::Millis{0});
  return passed % (passed > minutes{360} ? minutes{60} : minutes{15});
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
void FurthestFirst(const rules::Alarm& alarm, std::vector<Group>& groups) {
  const double sign = alarm.kind == rules::AlarmKind::kTooCold ? 1 : -1;
  std::ranges::stable_sort(groups, {}, [sign](const Group& group) {
    return group.told.own ? sign * *group.told.own : std::numeric_limits<double>::infinity();
  });
}

// By when it comes to them, the first first; what nothing is foreseen of last.
void SoonestFirst(std::vector<Group>& groups) {
  std::ranges::stable_sort(groups, {}, [](const Group& group) {
    constexpr rules::Millis kNever = rules::Millis::max();
    if (!group.matter) return std::pair(kNever, kNever);
    return std::pair(group.matter->soonest, group.matter->latest.value_or(kNever));
  });
}

}  // namespace

std::optional<bool> Concern::LeftBand() const {
  if (!own || !keep) return std::nullopt;
  const double shown = std::round(*own * 10) / 10;
  return shown < keep->low || shown > keep->high;
}

rules::Millis LeftOf(const rules::Alarm& alarm, rules::Millis span, rules::Instant now) {
  return std::max(span - SinceForecast(alarm, now), rules::Millis{0});
}

std::vector<Concern> Touched(const Book& book, const rules::Alarm& alarm, rules::Instant now) {
  rules::Alarm plain = alarm;
  plain.matters.clear();
  std::vector<Concern> told;
  for (Group& group : Grouped(book, plain, alarm.wheels, now)) told.push_back(std::move(group.told));
  return told;
}

// It is foreseen when an alarm's own wheels are, so that an answer says what the one before it said.
rules::Alarm AsForeseen(const ApiContext& context, rules::Alarm alarm) {
  // Of air that nobody knows nothing is foreseen.
  if (IsAirUnknown(context, alarm)) {
    alarm.matters.clear();
    return alarm;
  }
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

std::vector<Concern> Concerns(const ApiContext& context, const rules::Alarm& foreseen) {
  const rules::Instant now = context.now();
  std::vector<Group> groups = Grouped(context.book(), foreseen, Concerned(foreseen), now, Before(context));
  SoonestFirst(groups);
  if (foreseen.over) FurthestFirst(foreseen, groups);
  std::vector<Concern> told;
  for (Group& group : groups) {
    if (const rules::Matter* matter = group.matter) {
      group.told.soonest = matter->IsFar() ? matter->soonest : LeftOf(foreseen, matter->soonest, now);
      if (matter->latest) group.told.latest = LeftOf(foreseen, *matter->latest, now);
    }
    group.told.as_before = group.cave && LiesBeyond(context, foreseen, group.told, *group.cave);
    told.push_back(std::move(group.told));
  }
  return told;
}

std::size_t WheelsConcerned(const ApiContext& context, const rules::Alarm& alarm) {
  return Concerned(AsForeseen(context, alarm)).size();
}

}  // namespace rindwatch
