#include "rules/alarms/shapes.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

// Somebody was there from a little before the air moved until it turned.
constexpr Millis kBefore = minutes{15};
// A defrost comes again: twice a day or once, within this.
constexpr Millis kAsRegular = minutes{25};
constexpr Millis kPeriods[] = {hours{6}, hours{8}, hours{12}, hours{24}};
// One that is too gentle for a name at first has an interval of its own, between these, and is known by its third.
constexpr Millis kShortestInterval = hours{4}, kLongestInterval = hours{26};
// Where the air often goes astray, some are equally far apart by chance: so many others may lie between the three.
constexpr std::ptrdiff_t kMostBetween = 1;
// What takes longer is no defrost.
constexpr Millis kShort = minutes{90};
// A door's rush of air: this much within five minutes (trade: 1 to 4 K and 5 to 20 points, back within 15 to 40 min).
constexpr double kRush = 0.6, kDampRush = 5;
// Warm cheese keeps a fridge busy for longer than a door does.
constexpr Millis kLongDoor = minutes{50};

bool WasThere(const std::optional<Instant>& when, const Excursion::Course& course) {
  return when && *when >= course.since - kBefore && *when <= course.turned.value_or(course.since) + kBefore;
}

// Another of the kind, or what was taken for a door, lies a period before.
bool ComesAgain(const Cave& cave, Instant since) {
  return std::ranges::any_of(cave.shapes, [&](const Shape& shape) {
    if (shape.kind != ShapeKind::kDefrost && shape.kind != ShapeKind::kDoor) return false;
    return std::ranges::any_of(kPeriods, [&](Millis period) {
      const Millis off = since - shape.from - period;
      return off < kAsRegular && off > -kAsRegular;
    });
  });
}

// Two earlier ones lie one and two intervals before, and hardly any besides.
bool KeepsAnInterval(const std::vector<Instant>& gentle, Instant since) {
  return std::ranges::any_of(gentle, [&](Instant one) {
    const Millis interval = since - one;
    if (interval < kShortestInterval || interval > kLongestInterval) return false;
    return std::ranges::any_of(gentle, [&](Instant two) {
      const Millis off = one - two - interval;
      const auto others = std::ranges::count_if(gentle, [&](Instant other) { return other > two && other != one; });
      return off < kAsRegular && off > -kAsRegular && others <= kMostBetween;
    });
  });
}

void RememberGentle(Cave& cave, Instant since) {
  if (cave.gentle.size() >= Cave::kMostGentle) cave.gentle.erase(cave.gentle.begin());
  cave.gentle.push_back(since);
}

}  // namespace

void AddShape(Cave& cave, const Shape& shape) {
  if (cave.shapes.size() >= Cave::kMostShapes) cave.shapes.erase(cave.shapes.begin());
  cave.shapes.push_back(shape);
}

void NameShape(Cave& cave, const Excursion::Course& course, Instant ended) {
  const bool door = WasThere(cave.door_shut, course) || WasThere(cave.door_open, course);
  const bool rushed =
      course.soon - course.began >= kRush || std::abs(course.humidity_far - course.humidity_began) >= kDampRush;
  const bool lingers = ended - course.since >= kLongDoor;
  const bool tended = WasThere(cave.tended, course) || WasThere(cave.here_until, course);
  const bool gentle = !tended && !door && !rushed && ended - course.since < kShort;
  const bool steady = gentle && KeepsAnInterval(cave.gentle, course.since);
  if (gentle) RememberGentle(cave, course.since);
  ShapeKind kind = ShapeKind::kDoor;
  if (tended) {
    kind = lingers ? ShapeKind::kDelivery : ShapeKind::kYourRound;
  } else if (steady || (!door && ComesAgain(cave, course.since))) {
    kind = ShapeKind::kDefrost;
  } else if (!door && !rushed) {
    return;  // not known, so not named
  } else if (lingers) {
    kind = ShapeKind::kDelivery;
  }
  AddShape(cave, {kind, course.since, ended});
}

}  // namespace rindwatch::rules::watch
