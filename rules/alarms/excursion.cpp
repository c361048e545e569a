#include "rules/alarms/excursion.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules::watch {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

// It is over this far below where one opens, so that it does not open and end with each cycle of the plant.
constexpr double kEndsBelow = 0.2;
constexpr Millis kSoon = minutes{5};
constexpr Millis kAtFirst = minutes{10};
// Nothing is learned from what took longer: that was a failure or a heat wave.
constexpr Millis kLongestLearned = hours{4};
// And from one that was told no more than this, times what is usual: what comes each day is learned in a few.
constexpr double kTeachesAtMost = 1.2;
// On its way back it falls by such a step within each such time. Tuned on the simulated fridge: a warm fridge whose
// door is shut again takes longer than its usual excursions do, though all is well.
constexpr double kStepBack = 0.1;  // K
constexpr Millis kStepsWithin = minutes{15};

std::int64_t DayOf(Instant at) { return at.time_since_epoch() / days{1}; }
double Minutes(Millis span) { return static_cast<double>(span / minutes{1}); }

}  // namespace

std::optional<Excursion::Course> Excursion::Take(const Settings& settings, double beyond, const Damp& damp,
                                                 Instant at) {
  if (!open_) {
    if (beyond <= settings.excursion_above) {
      seen_inside_ = true;
      return std::nullopt;
    }
    if (!seen_inside_) return std::nullopt;
    open_ = true;
    turned_ = came_back_ = false;
    told_.reset();
    waits_since_ = low_at_ = at;
    low_ = beyond;
    course_ = {at, at, beyond, beyond, beyond, {}, damp.mean, damp.mean, damp.before, damp.lately, at};
    return std::nullopt;
  }
  if (at <= course_.since + kSoon) course_.soon = beyond;
  if (beyond > course_.peak) {
    course_.peak = beyond;
    course_.peak_at = low_at_ = at;
    low_ = beyond;
    // Warmer than before it turned: another one on top of it, which may take its time.
    if (turned_) waits_since_ = at;
    turned_ = false;
  } else if (!turned_ && beyond <= course_.peak - settings.excursion_turns_by) {
    turned_ = true;
    if (!course_.turned) course_.turned = at;
  }
  if (beyond <= low_ - kStepBack) {
    low_ = beyond;
    low_at_ = at;
  }
  if (!IsHalfBack(settings, course_.peak, beyond)) course_.high_until = at;
  FollowDamp(damp, at);
  FollowBack(settings, beyond, at);
  if (beyond > settings.excursion_above - kEndsBelow) return std::nullopt;
  open_ = false;
  if (!course_.turned) course_.turned = at;
  return course_;
}

void Excursion::FollowDamp(const Damp& damp, Instant at) {
  if (std::abs(damp.mean - course_.humidity_began) > std::abs(course_.humidity_far - course_.humidity_began)) {
    course_.humidity_far = damp.mean;
  }
  if (at == course_.peak_at && at <= course_.since + kAtFirst) course_.humidity_soon = damp.lately;
}

void Excursion::FollowBack(const Settings& settings, double beyond, Instant at) {
  if (told_) {
    told_peak_ = std::max(told_peak_, beyond);
    if (!IsHalfBack(settings, told_peak_, beyond)) return;
    told_.reset();
    came_back_ = true;
    lowest_ = beyond;
  } else if (!came_back_ || beyond > lowest_ + kStepBack) {
    return;
  }
  lowest_ = std::min(lowest_, beyond);
  lowest_at_ = at;
}

bool Excursion::IsHalfBack(const Settings& settings, double peak, double now) {
  return peak - now >= (peak - settings.excursion_above + kEndsBelow) / 2;
}

void Excursion::Tell(Severity severity, double beyond) {
  if (!told_) told_peak_ = beyond;
  told_ = std::max(told_.value_or(severity), severity);
  course_.told = true;
}

bool Excursion::IsNews(const Settings& settings, double beyond) const {
  return told_ || !came_back_ || beyond - lowest_ >= settings.excursion_above;
}

bool Excursion::ComesBack(const Settings& settings, Instant at) const {
  return open_ && turned_ && IsHalfBack(settings, course_.peak, low_) && at - low_at_ < kStepsWithin;
}

bool Excursion::IsAnswered(const Settings& settings, Instant at) const {
  return ComesBack(settings, at) && (course_.asked == 0 || IsHalfBack(settings, course_.asked, low_));
}

bool Excursion::HasLearnedBy(const Settings& settings, Instant at, Instant begun) {
  return Minutes(at - begun) >= settings.excursion_first_days * 24 * 60;
}

bool Excursion::IsTooLong(const Settings& settings, double turn_floor, Instant begun, Instant at) const {
  if (!open_ || ComesBack(settings, at)) return false;
  const bool unlearned = !HasLearnedBy(settings, at, begun);
  const double waited = Minutes(at - waits_since_), lasted = Minutes(at - course_.since);
  if (unlearned) {
    return (!turned_ && waited >= std::max(turn_floor, settings.excursion_turn_unlearned)) ||
           lasted >= settings.excursion_lasts_unlearned;
  }
  // One that lets the air come too far stands wide open, and is given no longer than a plant.
  const bool door = IsOfDoor(settings, course_) && course_.peak < settings.door_wide_open;
  const auto longest = [&](DayMost Usual::*of) {
    const std::int64_t day = DayOf(at);
    const auto own = (own_.*of).Longest(day), doors = door ? (doors_.*of).Longest(day) : 0;
    return settings.excursion_patience * static_cast<double>(std::max(own, doors));
  };
  return (!turned_ && waited >= std::max(turn_floor, longest(&Usual::turns))) ||
         lasted >= std::max(settings.excursion_lasts_floor, longest(&Usual::lasts));
}

bool Excursion::CameAtOnce(const Settings& settings, const Course& course) {
  return course.soon - course.began >= settings.door_rush;
}

// A door lets in air that warms at once, or is drier; where a plant fails it warms slowly, and the rinds go on drying.
// Tuned on the simulated fridge: with more points for dry, doors pass for failures.
bool Excursion::IsOfDoor(const Settings& settings, const Course& course) {
  return CameAtOnce(settings, course) || course.humidity_far - course.humidity_began <= -settings.door_dries_by;
}

void Excursion::Learn(const Settings& settings, const Course& course, Instant ended) {
  if (ended - course.since >= kLongestLearned) return;
  const auto learn = [&](DayMost& learned, Millis span, double floor) {
    const std::int64_t day = DayOf(ended);
    const double usual = std::max(floor, static_cast<double>(learned.Longest(day)));
    const double most = course.told ? kTeachesAtMost * usual : Minutes(span);
    learned.Learn(day, static_cast<std::int64_t>(std::min(Minutes(span), most)));
  };
  Usual& usual = IsOfDoor(settings, course) ? doors_ : own_;
  learn(usual.turns, *course.turned - course.since, settings.excursion_turn_floor);
  learn(usual.lasts, ended - course.since, settings.excursion_lasts_floor);
}

}  // namespace rindwatch::rules::watch
