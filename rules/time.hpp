// Instants, dates and the keeper's day. Instants are UTC milliseconds; days are the keeper's.
#pragma once

#include <chrono>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace rindwatch::rules {

using Millis = std::chrono::milliseconds;
using Instant = std::chrono::sys_time<Millis>;
// A wall-clock time without a zone.
using LocalTime = std::chrono::local_time<Millis>;
// A calendar date; arithmetic in std::chrono::days.
using Date = std::chrono::local_days;

constexpr Instant FromMillis(std::int64_t since_epoch) { return Instant{Millis{since_epoch}}; }
constexpr std::int64_t ToMillis(Instant at) { return at.time_since_epoch().count(); }
// "2026-11-25"
std::string ToText(Date date);
// "2026-11-25T07:30:00.000Z"
std::string ToText(Instant at);
constexpr Date MakeDate(int year, unsigned month, unsigned day) {
  return Date{std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day}};
}
constexpr std::chrono::weekday WeekdayOf(Date date) { return std::chrono::weekday{date}; }

// The offsets from UTC of one place, as a plain value: whoever owns a zone database fills it in. A copy is cheap.
// A local time that does not exist, or exists twice, is read with the earlier offset; nothing here throws.
class Zone {
 public:
  struct Transition {
    Instant from;                 // first instant at which the offset holds
    std::chrono::seconds offset;  // local minus UTC
  };

  // UTC.
  Zone() = default;
  // `offset` holds before the first transition; transitions ascend.
  Zone(std::string name, std::chrono::seconds offset, std::vector<Transition> transitions);

  const std::string& Name() const { return name_; }
  // Local minus UTC before the first transition.
  std::chrono::seconds FirstOffset() const { return first_offset_; }
  const std::vector<Transition>& Transitions() const { return *transitions_; }
  LocalTime ToLocal(Instant at) const;
  Instant ToInstant(LocalTime local) const;
  // The first instant at which a clock on the wall shows `local` or, if it skips that time, the first after the skip.
  Instant FirstInstantAtOrAfter(LocalTime local) const;

 private:
  std::chrono::seconds OffsetAt(Instant at) const;
  static std::shared_ptr<const std::vector<Transition>> NoTransitions();

  std::string name_ = "UTC";
  std::chrono::seconds first_offset_{0};
  std::shared_ptr<const std::vector<Transition>> transitions_ = NoTransitions();
};

// When the keeper's day turns: 04:00 unless the cave says otherwise (0 to 5), so that a round that ends after
// midnight belongs to its evening.
struct DayTurn {
  Zone zone;
  int hour = 4;

  Date DayOf(Instant at) const;
  Instant StartOf(Date day) const;
  Instant EndOf(Date day) const { return StartOf(day + std::chrono::days{1}); }
};

// The days of many instants that lie near each other: between two changes of the clock a day is a division. Lives no
// longer than the turn.
class DayFinder {
 public:
  explicit DayFinder(const DayTurn& turn) : turn_(turn) {}
  Date DayOf(Instant at);

 private:
  void FindSpanAround(Instant at);

  const DayTurn& turn_;
  // Inside it no change of the clock is nearer than two days.
  Instant from_ = Instant::max(), until_ = Instant::min();
  Millis shift_{};  // local minus UTC minus the hour of the turn
};

}  // namespace rindwatch::rules
