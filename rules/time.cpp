#include "rules/time.hpp"

#include <algorithm>
#include <cstdio>

namespace rindwatch::rules {

using std::chrono::days;
using std::chrono::floor;
using std::chrono::hours;
using std::chrono::seconds;

std::string ToText(Date date) {
  const std::chrono::year_month_day ymd{date};
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                static_cast<unsigned>(ymd.day()));
  return text;
}

std::string ToText(Instant at) {
  const auto day = floor<days>(at);
  const std::chrono::hh_mm_ss clock{at - day};
  char text[32];
  std::snprintf(text, sizeof text, "T%02d:%02d:%02d.%03dZ", static_cast<int>(clock.hours().count()),
                static_cast<int>(clock.minutes().count()), static_cast<int>(clock.seconds().count()),
                static_cast<int>(clock.subseconds().count()));
  return ToText(Date{day.time_since_epoch()}) + text;
}

Zone::Zone(std::string name, seconds offset, std::vector<Transition> transitions)
    : name_(std::move(name)),
      first_offset_(offset),
      transitions_(std::make_shared<const std::vector<Transition>>(std::move(transitions))) {}

std::shared_ptr<const std::vector<Zone::Transition>> Zone::NoTransitions() {
  static const auto none = std::make_shared<const std::vector<Transition>>();
  return none;
}

seconds Zone::OffsetAt(Instant at) const {
  const auto next = std::ranges::upper_bound(*transitions_, at, {}, &Transition::from);
  return next == transitions_->begin() ? first_offset_ : std::prev(next)->offset;
}

LocalTime Zone::ToLocal(Instant at) const { return LocalTime{at.time_since_epoch() + OffsetAt(at)}; }

Instant Zone::ToInstant(LocalTime local) const {
  // The earlier offset is the one in force before the transition nearest to this local time: walk forward from an
  // offset that is certainly old enough and stop before the first transition that this reading would pass.
  seconds offset = OffsetAt(Instant{local.time_since_epoch()} - hours{48});
  auto next =
      std::ranges::upper_bound(*transitions_, Instant{local.time_since_epoch()} - hours{48}, {}, &Transition::from);
  for (; next != transitions_->end(); ++next) {
    const Instant with_old{local.time_since_epoch() - offset};
    if (with_old < next->from) break;
    const Instant with_new{local.time_since_epoch() - next->offset};
    if (with_new < next->from) break;  // in the gap: only the earlier offset can name it
    offset = next->offset;
  }
  return Instant{local.time_since_epoch() - offset};
}

Instant Zone::FirstInstantAtOrAfter(LocalTime local) const {
  const Instant named = ToInstant(local);
  if (ToLocal(named) == local) return named;
  // Skipped: `named` lies behind the transition that skipped it.
  const auto next = std::ranges::upper_bound(*transitions_, named, {}, &Transition::from);
  return std::prev(next)->from;
}

Date DayTurn::DayOf(Instant at) const { return DayFinder(*this).DayOf(at); }

Instant DayTurn::StartOf(Date day) const { return zone.FirstInstantAtOrAfter(LocalTime{day} + hours{hour}); }

Date DayFinder::DayOf(Instant at) {
  if (at < from_ || at >= until_) FindSpanAround(at);
  Date day = floor<days>(LocalTime{at.time_since_epoch()} + shift_);
  if (from_ < until_) return day;
  // A clock change near the turn can put the plain subtraction a day off in either direction.
  while (at < turn_.StartOf(day)) day -= days{1};
  while (at >= turn_.StartOf(day + days{1})) day += days{1};
  return day;
}

void DayFinder::FindSpanAround(Instant at) {
  constexpr days kApart{2};
  const std::vector<Zone::Transition>& changes = turn_.zone.Transitions();
  const auto next = std::ranges::upper_bound(changes, at, {}, &Zone::Transition::from);
  from_ = next == changes.begin() ? Instant::min() : std::prev(next)->from + kApart;
  until_ = next == changes.end() ? Instant::max() : next->from - kApart;
  shift_ = turn_.zone.ToLocal(at).time_since_epoch() - at.time_since_epoch() - hours{turn_.hour};
  if (at < from_ || at >= until_) until_ = from_;
}

}  // namespace rindwatch::rules
