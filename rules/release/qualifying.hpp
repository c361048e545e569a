// The second clock of a wheel: the days that count for the law, by a rule that the keeper typed. It tells what was
// recorded and what was vouched for; whether a cheese may be let go is for law and licensed practice to say. Pure
// values.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/care/history.hpp"
#include "rules/units.hpp"

namespace rindwatch::rules {

struct QualifyingRule {
  std::string name;                        // "60 days at 1.7 °C or more"
  StartKind start = StartKind::kMade;      // its day is the first that can count
  std::optional<Celsius> min_temperature;  // none: any temperature
  int min_days = 0;
  // Where the rule says months these count instead of `min_days`, by the calendar: made on 31 August, six months are
  // full on 1 March, because February has no such day.
  int min_months = 0;
  std::vector<WheelState> not_counting;  // days in these states do not count: drying
  bool vouching = false;                 // may a keeper vouch for a day of which nothing was recorded?
  bool operator==(const QualifyingRule&) const = default;
};

// What a rule contradicts itself in; none: it can be used.
enum class RuleFault { kNoName, kNoDays, kTooManyDays, kTooManyMonths, kNoTemperature };
std::optional<RuleFault> FaultOf(const QualifyingRule& rule);

// A keeper's word for days of which nothing was recorded; both ends in it.
struct Vouch {
  ActId id;
  Date from, to;
  std::string name, reason;
};

// How warm a wheel was on one keeper's day, by the air where it lay: its least mean of a quarter of an hour, and the
// longest time of the day in which nothing spoke.
struct DayOfAir {
  Date day;
  std::optional<Celsius> low;  // none: nothing was recorded
  Millis longest_silence{};
};

// A day is proven only if nothing was silent for longer than this. It is the time after which a silent probe is named
// by the watch (45 minutes: three quarters of an hour), which is less than the hour that the smallest wheel takes to
// follow the air two thirds of a step.
inline constexpr Millis kLongestSilence = std::chrono::minutes{45};

// From its day on a wheel is in this state, until the next; ascending. Those to come as the plan expects them.
struct StateFrom {
  Date from;
  WheelState state = WheelState::kDrying;
  bool counts = true;  // the plan's word on its days
};

enum class DayProof {
  kProven,       // recorded all day, and at or above the minimum
  kVouched,      // not recorded, and a keeper stands for it
  kMissing,      // recorded below the minimum; nobody can vouch for it
  kUnproven,     // not recorded
  kNotCounting,  // of a state whose days do not count
};
std::string_view ToText(DayProof proof);

struct JudgedDay {
  Date day;
  DayProof is = DayProof::kUnproven;
  std::optional<Celsius> low;
};

// The days from the start event to yesterday; today is not over. The three sums are never added up but for `Counted`.
struct QualifyingAge {
  int proven = 0, vouched = 0, missing = 0, unproven = 0, not_counting = 0;
  int of = 0;  // days that the rule asks for
  std::vector<JudgedDay> days;
  // The first day on which enough days are full, if every day to come is proven.
  std::optional<Date> earliest;
  int Counted() const { return proven + vouched; }
  int Short() const { return Counted() >= of ? 0 : of - Counted(); }
  bool Reached() const { return Short() == 0; }
};

// `start` is the day of the rule's start event; none: it has not come, and nothing counts yet. `air` ascends and may
// lack days, and may hold today, on which what was too cold already tells.
QualifyingAge QualifyingAgeOf(const QualifyingRule& rule, std::optional<Date> start, Date today,
                              const std::vector<DayOfAir>& air, const std::vector<StateFrom>& states,
                              const std::vector<Vouch>& vouches);

// Days that a rule asks for of a wheel whose clock starts on `start`.
int DaysAskedFor(const QualifyingRule& rule, Date start);
// The first lawful day of a wheel if every day that can count does.
Date LawfulDate(const QualifyingRule& rule, Date start, const std::vector<StateFrom>& states);

// Releasing before the rule is reached needs a name and a reason; both are journalled.
enum class ReleaseAnswer { kReleased, kLocked, kNeedsName, kNeedsReason };
struct ReleaseOverride {
  std::string name, reason;
};
ReleaseAnswer JudgeRelease(const QualifyingAge& age, const std::optional<ReleaseOverride>& override_by);

// Vouching needs the rule's leave, a name, a reason, and at least one unproven day among those named.
enum class VouchAnswer { kTaken, kNotAllowed, kNeedsName, kNeedsReason, kNothingToVouchFor };
VouchAnswer JudgeVouch(const QualifyingRule& rule, const QualifyingAge& age, const Vouch& vouch);

}  // namespace rindwatch::rules
