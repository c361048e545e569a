#include "rules/release/qualifying.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// No cheese is asked to wait for longer, and a typing error would wait for ever.
constexpr int kMostDays = 3660;
constexpr int kMostMonths = 120;

Date PlusMonths(Date date, int months) {
  const std::chrono::year_month_day given{date};
  const auto month = std::chrono::year_month{given.year(), given.month()} + std::chrono::months{months};
  const std::chrono::year_month_day full{month.year(), month.month(), given.day()};
  if (full.ok()) return Date{full};
  return Date{std::chrono::year_month_day{(month + std::chrono::months{1}).year(),
                                          (month + std::chrono::months{1}).month(), std::chrono::day{1}}};
}

bool Counts(const QualifyingRule& rule, const std::vector<StateFrom>& states, Date day) {
  const auto after = std::ranges::upper_bound(states, day, {}, &StateFrom::from);
  if (after == states.begin()) return true;
  const StateFrom& state = *std::prev(after);
  return state.counts && std::ranges::count(rule.not_counting, state.state) == 0;
}

const DayOfAir* AirOn(const std::vector<DayOfAir>& air, Date day) {
  const auto found = std::ranges::lower_bound(air, day, {}, &DayOfAir::day);
  return found != air.end() && found->day == day ? &*found : nullptr;
}

bool TooCold(const QualifyingRule& rule, const DayOfAir* air) {
  return rule.min_temperature && air != nullptr && air->low && *air->low < *rule.min_temperature;
}

bool Recorded(const QualifyingRule& rule, const DayOfAir* air) {
  if (!rule.min_temperature) return true;
  return air != nullptr && air->low && air->longest_silence <= kLongestSilence;
}

bool IsVouchedFor(const QualifyingRule& rule, const std::vector<Vouch>& vouches, Date day) {
  return rule.vouching && std::ranges::any_of(vouches, [&](const Vouch& vouch) {
           return vouch.from <= day && day <= vouch.to && !vouch.name.empty() && !vouch.reason.empty();
         });
}

DayProof Judge(const QualifyingRule& rule, Date day, const DayOfAir* air, const std::vector<StateFrom>& states,
               const std::vector<Vouch>& vouches) {
  if (!Counts(rule, states, day)) return DayProof::kNotCounting;
  if (TooCold(rule, air)) return DayProof::kMissing;
  if (Recorded(rule, air)) return DayProof::kProven;
  return IsVouchedFor(rule, vouches, day) ? DayProof::kVouched : DayProof::kUnproven;
}

int& SumOf(QualifyingAge& age, DayProof proof) {
  switch (proof) {
    case DayProof::kProven:
      return age.proven;
    case DayProof::kVouched:
      return age.vouched;
    case DayProof::kMissing:
      return age.missing;
    case DayProof::kUnproven:
      return age.unproven;
    case DayProof::kNotCounting:
      return age.not_counting;
  }
  return age.unproven;
}

// The day after `missing` more counting days from `from` on; none if the wheel will never be in a state that counts.
std::optional<Date> AfterCounting(const QualifyingRule& rule, Date from, int missing,
                                  const std::vector<StateFrom>& states) {
  const Date last_change = states.empty() ? from : std::max(from, states.back().from);
  const Date horizon = last_change + days{missing + 1};
  Date day = from;
  for (; missing > 0 && day <= horizon; day += days{1}) missing -= Counts(rule, states, day) ? 1 : 0;
  return missing > 0 ? std::nullopt : std::optional(day);
}

}  // namespace

std::string_view ToText(DayProof proof) {
  switch (proof) {
    case DayProof::kProven:
      return "proven";
    case DayProof::kVouched:
      return "vouched";
    case DayProof::kMissing:
      return "missing";
    case DayProof::kUnproven:
      return "unproven";
    case DayProof::kNotCounting:
      return "not counting";
  }
  return "unproven";
}

std::optional<RuleFault> FaultOf(const QualifyingRule& rule) {
  if (rule.name.find_first_not_of(" \t\n") == std::string::npos) return RuleFault::kNoName;
  if (rule.min_months < 0 || rule.min_days < 0 || (rule.min_months == 0 && rule.min_days == 0)) {
    return RuleFault::kNoDays;
  }
  if (rule.min_days > kMostDays) return RuleFault::kTooManyDays;
  if (rule.min_months > kMostMonths) return RuleFault::kTooManyMonths;
  // What no cellar can be; a figure in Fahrenheit that was typed as Celsius is caught above 30.
  if (rule.min_temperature && !(rule.min_temperature->value >= -30 && rule.min_temperature->value <= 30)) {
    return RuleFault::kNoTemperature;
  }
  return std::nullopt;
}

int DaysAskedFor(const QualifyingRule& rule, Date start) {
  if (rule.min_months == 0) return rule.min_days;
  return static_cast<int>((PlusMonths(start, rule.min_months) - start).count());
}

Date LawfulDate(const QualifyingRule& rule, Date start, const std::vector<StateFrom>& states) {
  return AfterCounting(rule, start, DaysAskedFor(rule, start), states).value_or(Date::max());
}

QualifyingAge QualifyingAgeOf(const QualifyingRule& rule, std::optional<Date> start, Date today,
                              const std::vector<DayOfAir>& air, const std::vector<StateFrom>& states,
                              const std::vector<Vouch>& vouches) {
  QualifyingAge age;
  age.of = DaysAskedFor(rule, start.value_or(today));
  if (!start) return age;
  for (Date day = *start; day < today; day += days{1}) {
    const DayOfAir* recorded = AirOn(air, day);
    const DayProof proof = Judge(rule, day, recorded, states, vouches);
    ++SumOf(age, proof);
    age.days.push_back({day, proof, recorded ? recorded->low : std::nullopt});
  }
  const bool today_is_lost = TooCold(rule, AirOn(air, today));
  const Date next = std::max(*start, today);
  if (age.Reached()) {
    // The day after the one that made it full.
    int full = 0;
    for (const JudgedDay& day : age.days) {
      full += day.is == DayProof::kProven || day.is == DayProof::kVouched ? 1 : 0;
      if (full != age.of) continue;
      age.earliest = day.day + days{1};
      break;
    }
  } else {
    age.earliest = AfterCounting(rule, today_is_lost && next == today ? next + days{1} : next, age.Short(), states);
  }
  return age;
}

ReleaseAnswer JudgeRelease(const QualifyingAge& age, const std::optional<ReleaseOverride>& override_by) {
  if (age.Reached()) return ReleaseAnswer::kReleased;
  if (!override_by) return ReleaseAnswer::kLocked;
  const auto blank = [](const std::string& text) { return text.find_first_not_of(" \t\n") == std::string::npos; };
  if (blank(override_by->name)) return ReleaseAnswer::kNeedsName;
  return blank(override_by->reason) ? ReleaseAnswer::kNeedsReason : ReleaseAnswer::kReleased;
}

VouchAnswer JudgeVouch(const QualifyingRule& rule, const QualifyingAge& age, const Vouch& vouch) {
  const auto blank = [](const std::string& text) { return text.find_first_not_of(" \t\n") == std::string::npos; };
  if (!rule.vouching) return VouchAnswer::kNotAllowed;
  if (blank(vouch.name)) return VouchAnswer::kNeedsName;
  if (blank(vouch.reason)) return VouchAnswer::kNeedsReason;
  const bool any = std::ranges::any_of(age.days, [&](const JudgedDay& day) {
    return day.is == DayProof::kUnproven && vouch.from <= day.day && day.day <= vouch.to;
  });
  return any ? VouchAnswer::kTaken : VouchAnswer::kNothingToVouchFor;
}

}  // namespace rindwatch::rules
