#include "rules/alarms/shapes.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/air.hpp"
#include "rules/alarms/one_event.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// Somebody was there from a little before the air moved until it turned, or says so a little later.
constexpr Millis kBefore = minutes{15};
// Who is there when the air moves says so by then; who works first ticks by then. Who comes later found it as it was.
constexpr Millis kSaysWithin = minutes{10}, kTicksWithin = minutes{30};
// Who lays wheels in may enter them so long before or after.
constexpr Millis kGoodsWithin = minutes{45};
// What began earlier than that is named by nobody: who says something of hours of warm air came because of it.
constexpr Millis kNamesWithin = hours{1};
constexpr double kWarmerBy = 2;  // K: what comes from air that is cooler than that is no warm goods

// What takes longer is no defrost.
constexpr Millis kShort = minutes{90};
// A defrost comes again: twice a day or once, within this. The plant's own clock is better than a keeper's.
constexpr Millis kAsRegular = minutes{25}, kAsClockwork = minutes{10};
constexpr Millis kPeriods[] = {hours{6}, hours{8}, hours{12}, hours{24}};
// One that nothing else tells of has an interval of its own, between these, and is known by its third.
constexpr Millis kShortestInterval = hours{4}, kLongestInterval = hours{26};
// Where the air tells nothing it comes more often: a person would have to be there at night too, and comes once a day.
constexpr Millis kLongestOfAnyAir = hours{13};
// Where the air often goes astray, some are equally far apart by chance: so many others may lie between the three.
constexpr std::ptrdiff_t kMostBetween = 1;
// Two of one kind are so much alike.
constexpr double kAlikeBy = 0.4, kAlikeShare = 0.4;  // K, or of the larger
constexpr Millis kAlikeWithin = minutes{10};

// A door's rush of air (`CameAtOnce`; trade: 1 to 4 K, back within 15 to 40 min). The room's air is
// drier than a cave's, and where a plant stands still for its defrost the air becomes damper: simulated, a door takes
// up to 18 points off while the air rises and a defrost adds 3 to 38. A door that stands open for long dries it for
// long.
constexpr double kDried = -3, kMuchDrier = -5, kDamper = 3;  // points
constexpr Millis kForLong = minutes{25};
// Warm goods keep the air up after the door is shut: at its height at once, and long on the last half of its way back.
// Simulated, no door that was soon shut takes that long, and one that stands open is late at its height.
constexpr Millis kAtOnce = minutes{20}, kLingers = minutes{25};

bool Within(Instant when, Instant from, Instant to) { return when >= from && when <= to; }

Instant TurnOf(const Excursion::Course& course) { return course.turned.value_or(course.since); }

bool WasThere(const std::optional<Instant>& when, const Excursion::Course& course) {
  return when && Within(*when, course.since - kBefore, TurnOf(course) + kBefore);
}

// Until when somebody was there while it began; none: nobody was.
std::optional<Instant> SomebodyUntil(const Cave& cave, const Excursion::Course& course) {
  std::optional<Instant> until;
  if (WasThere(cave.tended, course) && *cave.tended <= course.since + kTicksWithin) until = cave.tended;
  const auto& stay = cave.stay;
  if (stay && stay->from <= course.since + kSaysWithin && stay->to >= course.since - kBefore) {
    until = std::max(until.value_or(stay->to), stay->to);
  }
  return until;
}

// How the humidity moved as the air rose, or all the while where it was out for long, in points; 0: no probe tells.
double ShiftAtOnce(const Excursion::Course& course) {
  const bool known = course.humidity_before > 0 && course.humidity_soon > 0;
  return known ? course.humidity_soon - course.humidity_before : 0;
}
double ShiftOf(const Excursion::Course& course, Instant ended) {
  const double at_once = ShiftAtOnce(course);
  if (ended - course.since < kForLong || at_once >= kDamper) return at_once;
  return std::min(at_once, course.humidity_far - course.humidity_began);
}

// What came in or stood still, by what the air became.
enum class Became { kDrier, kAlike, kMoister };
Became MoistureOf(const Swing& swing) {
  if (swing.shift <= kDried) return Became::kDrier;
  return swing.shift >= kDamper ? Became::kMoister : Became::kAlike;
}

bool Alike(const Swing& a, const Swing& b) {
  const double higher = std::max(a.height, b.height);
  const Millis longer = std::max(a.lasts, b.lasts);
  return MoistureOf(a) == MoistureOf(b) && std::abs(a.height - b.height) <= std::max(kAlikeBy, kAlikeShare * higher) &&
         std::chrono::abs(a.lasts - b.lasts) <= std::max<Millis>(kAlikeWithin, longer / 2);
}

bool Near(Millis off, Millis within) { return off < within && off > -within; }

// Another of the kind lies a period before.
bool ComesAgain(const std::vector<Swing>& swings, const Swing& swing) {
  return std::ranges::any_of(swings, [&](const Swing& other) {
    return Alike(swing, other) && std::ranges::any_of(kPeriods, [&](Millis period) {
             return Near(swing.from - other.from - period, kAsRegular);
           });
  });
}

// Two earlier ones of the kind lie one and two intervals before, and hardly any besides.
bool KeepsAnInterval(const std::vector<Swing>& swings, const Swing& swing, Millis longest, Millis within) {
  return std::ranges::any_of(swings, [&](const Swing& one) {
    const Millis interval = swing.from - one.from;
    if (!Alike(swing, one) || interval < kShortestInterval || interval > longest) return false;
    return std::ranges::any_of(swings, [&](const Swing& two) {
      const auto others = std::ranges::count_if(
          swings, [&](const Swing& other) { return other.from > two.from && other.from != one.from; });
      return Alike(swing, two) && Near(one.from - two.from - interval, within) && others <= kMostBetween;
    });
  });
}

// The plant's own: it comes again. Clockwork is proof whatever the air does; with damper air the second is enough, and
// one a day. Of gentle air that has become no drier the third is.
bool IsDefrost(const Cave& cave, const Swing& swing, bool rushed) {
  if (swing.lasts >= kShort) return false;
  const auto keeps = [&](Millis longest, Millis within) {
    return KeepsAnInterval(cave.swings, swing, longest, within);
  };
  if (MoistureOf(swing) == Became::kMoister)
    return ComesAgain(cave.swings, swing) || keeps(kLongestInterval, kAsRegular);
  const bool may_be_door = rushed || MoistureOf(swing) == Became::kDrier;
  return keeps(kLongestOfAnyAir, may_be_door ? kAsClockwork : kAsRegular);
}

void Remember(Cave& cave, const Swing& swing) {
  if (swing.lasts >= kShort) return;
  if (cave.swings.size() >= Cave::kMostSwings) cave.swings.erase(cave.swings.begin());
  cave.swings.push_back(swing);
}

// With somebody there: the round, warm goods that keep the air up, or a door that was left open behind it.
ShapeKind OfKeeper(const Cave& cave, const Excursion::Course& course, Instant there_until, Instant ended) {
  if (course.peak_at - course.since <= kAtOnce && ended - course.high_until >= kLingers) return ShapeKind::kDelivery;
  const Millis turns_after = Minutes(cave.settings.round_turns_after);
  return course.high_until > there_until + turns_after ? ShapeKind::kDoor : ShapeKind::kYourRound;
}

bool IsOfTheRoom(double shift, bool rushed) { return shift <= kMuchDrier || (rushed && shift <= kDried); }

// With nobody there, as far as is known.
std::optional<ShapeKind> OfAir(Cave& cave, const Excursion::Course& course, Instant ended) {
  const double shift = ShiftOf(course, ended);
  const bool rushed = Excursion::CameAtOnce(cave.settings, course);
  const Swing swing{course.since, ended - course.since, course.peak, shift};
  const bool defrost = IsDefrost(cave, swing, rushed);
  Remember(cave, swing);
  if (defrost) return ShapeKind::kDefrost;
  if (IsOfTheRoom(shift, rushed)) return ShapeKind::kDoor;
  return rushed ? std::optional{ShapeKind::kWarmed} : std::nullopt;
}

// Of all that is known, the surest.
std::optional<ShapeKind> OfAll(Cave& cave, const Excursion::Course& course, Instant ended) {
  if (cave.goods && Within(*cave.goods, course.since - kGoodsWithin, course.since + kNamesWithin))
    return ShapeKind::kDelivery;
  if (const auto somebody = SomebodyUntil(cave, course)) return OfKeeper(cave, course, *somebody, ended);
  if (WasThere(cave.door_shut, course) || WasThere(cave.door_open, course)) return ShapeKind::kDoor;
  return OfAir(cave, course, ended);
}

// Of what rang: a door that stood open as it began, by a contact that rang too or by the air of the room, which came in
// at once.
std::optional<ShapeKind> OfBeginning(const EngineState::Body& body, CaveId id, const Excursion::Course& course) {
  const std::vector<CaveId> around = Outwards(body, id);
  const bool told = std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    return alarm.kind == AlarmKind::kDoorOpen && alarm.why == Why::kContact &&
           std::ranges::count(around, alarm.cave) > 0 && alarm.since <= course.since &&
           alarm.over.value_or(course.since) >= course.since;
  });
  const bool door = told || IsOfTheRoom(ShiftAtOnce(course), Excursion::CameAtOnce(body.caves.at(id).settings, course));
  return door ? std::optional{ShapeKind::kDoor} : std::nullopt;
}

// What nothing but the air has named, and a keeper knows better.
bool IsGuess(ShapeKind kind) { return kind == ShapeKind::kDoor || kind == ShapeKind::kWarmed; }

// What began lately, ended no earlier than `since` and did not ring is what a keeper says it was.
void Rename(EngineState::Body& body, CaveId id, Instant since, ShapeKind kind, Instant at) {
  Cave& cave = body.caves.at(id);
  const auto is_claimed = [&](Instant from, Instant until) {
    return from >= at - kNamesWithin && until >= since && !WasIll(body, id, from);
  };
  for (Shape& shape : cave.shapes) {
    const bool other = IsGuess(shape.kind) || (kind == ShapeKind::kDelivery && shape.kind == ShapeKind::kYourRound);
    if (other && is_claimed(shape.from, shape.until)) shape.kind = kind;
  }
  // It is no defrost that might come again, unless it is known as one.
  std::erase_if(cave.swings, [&](const Swing& swing) {
    const bool defrost = std::ranges::any_of(
        cave.shapes, [&](const Shape& shape) { return shape.from == swing.from && shape.kind == ShapeKind::kDefrost; });
    return !defrost && is_claimed(swing.from, swing.from + swing.lasts);
  });
}

std::optional<double> AirOf(const EngineState::Body& body, CaveId id, Instant at) {
  for (const CaveId one : Outwards(body, id)) {
    const auto found = body.caves.find(one);
    if (found == body.caves.end() || found->second.temperature_channels.empty()) continue;
    return MeanOf(body, found->second.temperature_channels, at).mean;
  }
  return std::nullopt;
}

}  // namespace

void AddShape(Cave& cave, const Shape& shape) {
  if (cave.shapes.size() >= Cave::kMostShapes) cave.shapes.erase(cave.shapes.begin());
  cave.shapes.push_back(shape);
}

void NameShape(const EngineState::Body& body, CaveId id, Cave& cave, const Excursion::Course& course, Instant ended) {
  const bool rang = WasIll(body, id, course.since);
  const auto kind = rang ? OfBeginning(body, id, course) : OfAll(cave, course, ended);
  if (kind) AddShape(cave, {*kind, course.since, ended});
}

void NameAfterTending(EngineState::Body& body, CaveId id, Instant at) {
  Rename(body, id, at - kBefore, ShapeKind::kYourRound, at);
}

void LayIn(EngineState::Body& body, std::optional<CaveId> from, CaveId to, Instant at) {
  if (from && Outwards(body, *from).back() == Outwards(body, to).back()) return;
  const auto here = AirOf(body, to, at), there = from ? AirOf(body, *from, at) : std::nullopt;
  if (here && there && *there < *here + kWarmerBy) return;
  for (const CaveId id : Outwards(body, to)) {
    const auto near = body.caves.find(id);
    if (near == body.caves.end()) continue;
    near->second.goods = at;
    Rename(body, id, at - kGoodsWithin, ShapeKind::kDelivery, at);
  }
}

}  // namespace rindwatch::rules::watch
