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
// A door's rush of air: this much within five minutes (trade: 1 to 4 K and 5 to 20 points, back within 15 to 40 min).
constexpr double kRush = 0.6, kDampRush = 5;
// Warm cheese keeps a fridge busy for longer than a door does.
constexpr Millis kLongDoor = minutes{50};

bool WasThere(const std::optional<Instant>& when, const Excursion::Course& course) {
  return when && *when >= course.since - kBefore && *when <= course.turned.value_or(course.since) + kBefore;
}

// Another of the kind, or something unnamed at the same interval, lies a period before.
bool ComesAgain(const Cave& cave, Instant since) {
  return std::ranges::any_of(cave.shapes, [&](const Shape& shape) {
    if (shape.kind != ShapeKind::kDefrost && shape.kind != ShapeKind::kDoor) return false;
    return std::ranges::any_of(kPeriods, [&](Millis period) {
      const Millis off = since - shape.from - period;
      return off < kAsRegular && off > -kAsRegular;
    });
  });
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
  ShapeKind kind = ShapeKind::kDoor;
  if (WasThere(cave.tended, course) || WasThere(cave.here_until, course)) {
    kind = lingers ? ShapeKind::kDelivery : ShapeKind::kYourRound;
  } else if (!door && ComesAgain(cave, course.since)) {
    kind = ShapeKind::kDefrost;
  } else if (!door && !rushed) {
    return;  // not known, so not named
  } else if (lingers) {
    kind = ShapeKind::kDelivery;
  }
  AddShape(cave, {kind, course.since, ended});
}

}  // namespace rindwatch::rules::watch
