#include "tests/rules/care/model_counts.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules::testing {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr days kDay{1};

int DividedUp(int a, int b) { return (a + b - 1) / b; }

// From the doing to the next due day; `k` counts the gaps from 1.
int GapOf(const Cadence& cadence, int k) {
  if (const auto* every = std::get_if<EveryDays>(&cadence)) return every->days;
  const int times = std::get<TimesAWeek>(cadence).times;
  return DividedUp(7 * k, times) - DividedUp(7 * (k - 1), times);
}

int ToleranceOf(const Care& care) {
  if (care.tolerance) return *care.tolerance;
  if (std::holds_alternative<OnceOnDay>(care.cadence)) return 2;
  double interval = 0;
  if (const auto* every = std::get_if<EveryDays>(&care.cadence)) interval = every->days;
  if (const auto* week = std::get_if<TimesAWeek>(&care.cadence)) interval = 7.0 / week->times;
  if (interval < 2) return 0;
  if (interval < 5) return 1;
  return interval <= 10 ? 2 : 4;
}

// A counted due day with its tolerance, where it may move to, and whether it may move at all.
struct Counted {
  Date day;
  int tolerance = 0;
  bool fixed = false;  // on the day of return, or for as long as an agreed care stands for it
  bool away = false;
};

Date NearestCareDay(const ModelLife& life, Date day) {
  const auto is_care_day = [&](Date one) { return life.care_days.contains(WeekdayOf(one).iso_encoding()); };
  for (int distance = 0; distance <= 6; ++distance) {
    if (is_care_day(day - days{distance})) return day - days{distance};
    if (is_care_day(day + days{distance})) return day + days{distance};
  }
  return day;
}

Date MovedDay(const ModelLife& life, const Counted& counted, Date earliest, Date latest) {
  if (counted.fixed || counted.tolerance < 1) return counted.day;
  const days most{counted.tolerance};
  const days wanted = NearestCareDay(life, counted.day) - counted.day;
  Date moved = counted.day + std::clamp(wanted, -most, most);
  moved = std::max(moved, std::min(earliest, counted.day));
  moved = std::min(moved, std::max(latest, counted.day));
  return life.PastDayZero(moved);
}

Date AbsenceBegins(const ModelLife& life, Date away_day) {
  while (life.On(away_day - kDay).away) away_day -= kDay;
  return away_day;
}

bool IsLateOn(const ModelLife& life, const Counted& counted, Date day) {
  // On days marked as away nothing becomes late.
  if (life.On(day).away) day = AbsenceBegins(life, day) - kDay;
  return day > life.EndOf(counted.day, counted.tolerance);
}

// At the start of a day of return.
void MaybeMoveToReturn(const ModelLife& life, Counted& counted, Date due, Date day) {
  if (!life.On(day).returns || due >= day || IsLateOn(life, counted, day - kDay)) return;
  counted.day = life.PastDayZero(day);
  counted.fixed = counted.away = true;
}

void TellState(const ModelLife& life, const Counted& counted, Date due, Date day, ModelCount& count) {
  count.asked = true;
  count.opens = counted.day - days{counted.tolerance};
  count.due = due;
  count.end = life.EndOf(counted.day, counted.tolerance);
  count.away = counted.away;
  if (day < count.opens) {
    count.state = CareState::kNotYet;
  } else if (day < due || life.IsDayZero(day)) {
    count.state = CareState::kOpen;
  } else if (IsLateOn(life, counted, day)) {
    count.state = CareState::kLate;
  } else {
    count.state = CareState::kDue;
  }
}

// While an agreed care is open, what it stands for is not asked beside it.
bool IsStoodFor(const ModelLife& life, const Care& care, Instant until) {
  return std::ranges::any_of(life.agreed, [&](const ModelAgreed& one) {
    return one.asked.stands_for && Contains(care.kinds, *one.asked.stands_for) && one.asked.at <= until &&
           !(one.settled && one.settled->at <= until);
  });
}

CareKind KindAfter(const Care& care, std::optional<CareKind> last) {
  if (!last) return care.kinds.front();
  const auto at = std::ranges::find(care.kinds, *last) - care.kinds.begin();
  return care.kinds[static_cast<std::size_t>(at + 1) % care.kinds.size()];
}

// Every N days, N a week.
ModelCount CountDays(const ModelLife& life, const Care& care, Date day, Instant until) {
  const Date first = life.RunBegins(day, care), last = life.RunEnds(day, care);
  const Date acts_from = life.ActsBegin(first);
  const int tolerance = ToleranceOf(care);
  int k = 1;
  std::optional<CareKind> last_kind;
  std::optional<Date> last_doing, last_deed;
  Counted counted;
  ModelCount count;

  const auto count_from = [&](Date next) {
    counted = {life.PastDayZero(std::max({next, first, life.entry})), tolerance};
  };
  std::size_t i = 0;
  for (; i < life.deeds.size() && life.deeds[i].day < acts_from; ++i) {
    const ModelDeed& deed = life.deeds[i];
    if (!Contains(care.kinds, deed.kind) || deed.repeat) continue;
    last_deed = deed.day;
    if (deed.skip) continue;
    last_kind = deed.kind;
    last_doing = deed.day;
  }
  count_from(last_doing ? *last_doing + days{GapOf(care.cadence, 1)} : first);

  const auto tolerance_on = [&](Date x) {
    while (life.IsDayZero(x)) x -= kDay;
    const Care* then = x < first ? life.SameCareOn(first, care) : life.SameCareOn(x, care);
    return ToleranceOf(then ? *then : care);
  };
  std::size_t next_agreed = 0;
  const auto due = [&] {
    return MovedDay(life, counted, std::max({first, life.entry, last_deed ? *last_deed + kDay : first}), last);
  };
  const auto wait_for_agreed = [&](Instant before) {
    for (; next_agreed < life.agreed.size() && life.agreed[next_agreed].asked.at <= before; ++next_agreed) {
      const AgreedCare& one = life.agreed[next_agreed].asked;
      if (!one.stands_for || !Contains(care.kinds, *one.stands_for) || due() >= one.day) continue;
      counted.day = life.PastDayZero(one.day);
      counted.fixed = true;
    }
  };

  for (Date x = acts_from; life.On(x).begins <= until; x += kDay) {
    if (x > first && x <= day && life.On(x).returns) {
      // Each day as the stage of that day has it.
      const Date before = AbsenceBegins(life, x - kDay) - kDay;
      const Counted asked = counted;
      counted.tolerance = tolerance_on(x);
      const Date due_then = due();
      counted.tolerance = tolerance_on(before);
      MaybeMoveToReturn(life, counted, due_then, x);
      counted.tolerance = asked.tolerance;
    }
    std::optional<ModelDeed> skipped_today;
    bool skipped_before_today = false;
    for (; i < life.deeds.size() && life.deeds[i].day == x && life.deeds[i].at <= until; ++i) {
      const ModelDeed& deed = life.deeds[i];
      if (!Contains(care.kinds, deed.kind) || deed.repeat) continue;
      wait_for_agreed(deed.at);
      if (deed.skip) {
        if (skipped_before_today) continue;  // a second skip on one day is a repeat
        skipped_before_today = true;
        if (last_deed) ++k;
        count_from(std::max(counted.day + days{GapOf(care.cadence, k)}, x + kDay));
        skipped_today = deed;
      } else {
        if (skipped_today) {
          // It replaces the skip.
          std::erase_if(count.settled, [&](const ModelDeed& one) { return one.skip; });
          skipped_today.reset();
        } else if (last_deed) {
          ++k;
        }
        count_from(x + days{GapOf(care.cadence, k)});
        last_kind = deed.kind;
      }
      last_deed = x;
      if (x == day) count.settled.push_back(deed);
    }
    wait_for_agreed(std::min(until, life.On(x).ends - Millis{1}));
  }
  count.kind = KindAfter(care, last_kind);
  if (counted.day <= last) TellState(life, counted, due(), day, count);
  return count;
}

// Morning and evening.
ModelCount CountHours(const ModelLife& life, const Care& care, Date day, Instant until) {
  const CareKind kind = care.kinds.front();
  const Date first = life.RunBegins(day, care), last = life.RunEnds(day, care);
  const Date acts_from = life.ActsBegin(first);
  ModelCount count;
  count.kind = kind;
  std::optional<Instant> last_deed;
  std::optional<Date> undone;  // the first whole day without a counted doing
  bool late = false, away = false;
  bool pending = false;  // the day before left something undone
  int done = 0;          // on the day

  const auto is_held = [&](Date x) {
    return std::ranges::any_of(life.agreed, [&](const ModelAgreed& agreed) {
      const AgreedCare& one = agreed.asked;
      return one.stands_for == kind && one.at <= until && life.DayOf(one.at) <= x && x < one.day &&
             !(last_deed && *last_deed >= one.at);
    });
  };
  std::size_t i = 0;
  for (; i < life.deeds.size() && life.deeds[i].day < acts_from; ++i) {
    const ModelDeed& deed = life.deeds[i];
    if (deed.kind == kind && !deed.repeat && !deed.skip) last_deed = deed.at;
  }
  for (Date x = acts_from; x <= day; x += kDay) {
    const ModelDay& today = life.On(x);
    if (today.returns && !late && pending) {
      undone.reset();
      away = true;
    }
    if (undone && !today.away && x != life.entry + kDay) late = true;
    done = 0;
    for (; i < life.deeds.size() && life.deeds[i].day == x && life.deeds[i].at <= until; ++i) {
      const ModelDeed& deed = life.deeds[i];
      if (deed.kind != kind || deed.repeat) continue;
      if (deed.replaces && done > 0) {
        if (x == day) count.settled.pop_back();
      } else {
        ++done;
      }
      last_deed = deed.at;
      if (x == day) count.settled.push_back(deed);
    }
    if (x == day) break;
    pending = done == 0 && !today.day_zero && x >= std::max(first, life.entry);
    if (done > 0) {
      undone.reset();
      late = away = false;
    } else if (!undone && x >= life.entry && !today.away && !today.day_zero && !is_held(x)) {
      undone = x;
    }
  }

  // Done on a day 0 after the day: nothing of it is left.
  if (i < life.deeds.size()) {
    for (; i < life.deeds.size() && life.deeds[i].at <= until; ++i) {
      if (life.deeds[i].kind == kind && !life.deeds[i].repeat) return count;
    }
  }
  const ModelDay& today = life.On(day);
  std::optional<Instant> from = last_deed ? std::optional{*last_deed + hours{6}} : std::nullopt;
  if (done == 1 && *from < today.ends) {
    count.evening = true;
    count.opens = count.due = count.end = day;
    count.asked = !is_held(day);
  } else if (done > 0) {
    const Date next = life.PastDayZero(day + kDay);
    count.opens = count.due = count.end = next;
    count.asked = next <= last;
    count.not_before = std::max(*from, life.On(next).begins);
  } else {
    // Late only once it may be done.
    const bool shown_late = late && !(from && until < *from);
    count.opens = count.due = count.end = std::max(shown_late ? *undone : day, life.entry);
    count.away = away && (shown_late || !today.away);
    count.asked = !is_held(day);
  }
  if (!count.not_before) count.not_before = from ? std::max(*from, today.begins) : today.begins;
  const bool before = until < *count.not_before;
  if (before) {
    count.state = CareState::kNotYet;
  } else {
    count.state = late && done == 0 ? CareState::kLate : CareState::kDue;
  }
  return count;
}

// Once on day D.
Date DateOf(const ModelDay& day, const Care& care) {
  return day.part_start + days{std::get<OnceOnDay>(care.cadence).day};
}

// The first day on which the care is asked for that same date.
Date OnceBegins(const ModelLife& life, Date day, const Care& care) {
  Date first = day;
  const Date date = DateOf(life.On(day), care);
  for (Date x = day; x >= life.dates.front().date; x -= kDay) {
    if (life.On(x).day_zero) continue;
    if (!life.SameCareOn(x, care) || DateOf(life.On(x), care) != date) break;
    first = x;
  }
  return first;
}

Date OnceEnds(const ModelLife& life, Date day, const Care& care) {
  Date last = day;
  const Date date = DateOf(life.On(day), care);
  for (Date x = day; x <= life.dates.back().date; x += kDay) {
    if (life.On(x).day_zero) continue;
    if (!life.SameCareOn(x, care) || DateOf(life.On(x), care) != date) return last;
    last = x;
  }
  return Date::max();
}

// From the entry, or from the plan or the answer that gave it.
Date KnownFrom(const ModelLife& life, Date day, const Care& care) {
  return std::max(life.entry, OnceBegins(life, day, care));
}

bool IsUnknown(const ModelLife& life, Date day, const Care& care) {
  return DateOf(life.On(day), care) + days{ToleranceOf(care)} < KnownFrom(life, day, care);
}

ModelCount CountOnce(const ModelLife& life, const Care& care, Date day, Instant until) {
  const CareKind kind = care.kinds.front();
  ModelCount count;
  count.kind = kind;
  // An act of a day 0 is one in the stage before.
  const Date asked_day = day;
  while (life.IsDayZero(day)) day -= kDay;
  const ModelDay& today = life.On(day);
  if (!today.stage) return count;

  // All of the kind in this stage, in the order of their days.
  struct One {
    const Care* care;
    std::optional<ModelDeed> settled;
  };
  std::vector<One> all;
  for (const Care& other : today.stage->cares) {
    if (std::holds_alternative<OnceOnDay>(other.cadence) && other.kinds.front() == kind) all.push_back({&other, {}});
  }
  std::ranges::stable_sort(all, [](const One& a, const One& b) {
    return std::get<OnceOnDay>(a.care->cadence).day < std::get<OnceOnDay>(b.care->cadence).day;
  });
  const Date holds_from = today.part_start + days{today.stage->first_day};
  std::optional<Date> last_deed, last_skip;
  for (const ModelDeed& deed : life.deeds) {
    if (deed.kind != kind || deed.repeat || deed.at > until) continue;
    const bool second_skip = deed.skip && last_skip == deed.day;
    if (!second_skip) last_deed = deed.day;
    if (deed.skip) last_skip = deed.day;
    if (second_skip || deed.day < holds_from) continue;
    const auto replaced = std::ranges::find_if(all, [&](const One& one) {
      return !deed.skip && one.settled && one.settled->skip && one.settled->day == deed.day;
    });
    const auto next = std::ranges::find_if(all, [&](const One& one) {
      return !one.settled && !(IsUnknown(life, day, *one.care) && deed.day >= KnownFrom(life, day, *one.care));
    });
    if (replaced != all.end()) {
      replaced->settled = deed;
    } else if (next != all.end()) {
      next->settled = deed;
    }
  }
  const auto own = std::ranges::find(all, &care, &One::care);
  if (own->settled) {
    if (own->settled->day == asked_day) count.settled.push_back(*own->settled);
    return count;
  }
  if (IsUnknown(life, day, care)) return count;

  const Date first = OnceBegins(life, day, care), last = OnceEnds(life, day, care);
  Counted counted{life.PastDayZero(std::max({DateOf(today, care), first, life.entry})), ToleranceOf(care)};
  const Date earliest = std::max({first, life.entry, last_deed ? *last_deed + kDay : first});
  for (Date x = first; x <= day; x += kDay) {
    if (x > first) MaybeMoveToReturn(life, counted, MovedDay(life, counted, earliest, last), x);
    for (const ModelAgreed& agreed : life.agreed) {
      const AgreedCare& one = agreed.asked;
      if (one.stands_for != kind || life.DayOf(one.at) != x || one.at > until) continue;
      if (MovedDay(life, counted, earliest, last) >= one.day) continue;
      counted.day = life.PastDayZero(one.day);
      counted.fixed = true;
    }
  }
  if (counted.day <= last) TellState(life, counted, MovedDay(life, counted, earliest, last), day, count);
  return count;
}

// What comes only with another: nothing of it is asked by itself.
ModelCount CountTogether(const ModelLife& life, const Care& care, Date day, Instant until) {
  ModelCount count;
  for (const ModelDeed& deed : life.deeds) {
    if (deed.day != day || deed.at > until || !Contains(care.kinds, deed.kind) || deed.repeat) continue;
    if (deed.skip ? !count.settled.empty() : !count.settled.empty() && !count.settled.back().skip) continue;
    count.settled = {deed};
  }
  return count;
}

}  // namespace

ModelCount CountCare(const ModelLife& life, const Care& care, Date day, Instant until) {
  ModelCount count;
  if (std::holds_alternative<OnceOnDay>(care.cadence)) {
    count = CountOnce(life, care, day, until);
  } else if (std::holds_alternative<MorningAndEvening>(care.cadence)) {
    count = CountHours(life, care, day, until);
  } else if (!std::holds_alternative<OnlyTogether>(care.cadence)) {
    count = CountDays(life, care, day, until);
  } else {
    count = CountTogether(life, care, day, until);
  }
  if (day == life.today && IsStoodFor(life, care, until)) count.asked = false;
  return count;
}

ModelCount CountAgreed(const ModelLife& life, const ModelAgreed& agreed, Date day, Instant until) {
  ModelCount count;
  count.kind = agreed.asked.kind;
  if (agreed.settled) {
    if (agreed.settled->day == day) count.settled.push_back(*agreed.settled);
    return count;
  }
  const Date asked_on = std::max(life.DayOf(agreed.asked.at), life.entry);
  Counted counted{life.PastDayZero(std::max(agreed.asked.day, asked_on)), 1};
  for (Date x = asked_on + kDay; x <= day; x += kDay) {
    MaybeMoveToReturn(life, counted, MovedDay(life, counted, asked_on, Date::max()), x);
  }
  (void)until;
  TellState(life, counted, MovedDay(life, counted, asked_on, Date::max()), day, count);
  return count;
}

}  // namespace rindwatch::rules::testing
