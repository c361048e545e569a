#include "rules/alarms/rates.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <numeric>

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr Millis kPeriod = minutes{10};
// Some texts print "10 or more": here it takes more than ten.
constexpr std::size_t kFloodBegins = 10, kFloodEnds = 5;
constexpr Millis kHour = hours{1};
constexpr std::size_t kBusyHour = 30;  // more than these make an hour a busy one
constexpr std::size_t kMostFrequent = 10;
constexpr Millis kStale = hours{24};
constexpr Millis kChatters = minutes{1}, kFleeting = minutes{1};
constexpr std::size_t kChatterTimes = 3;

double Percent(double part, double whole) { return whole > 0 ? 100 * part / whole : 0; }

// Every telling of the span, ascending.
std::vector<Instant> AllTold(const std::vector<Told>& told, Instant from, Instant to) {
  std::vector<Instant> all;
  for (const Told& one : told) {
    for (const Instant at : one.at) {
      if (at >= from && at < to) all.push_back(at);
    }
  }
  std::ranges::sort(all);
  return all;
}

struct PerPeriod {
  std::size_t most = 0;  // in one of them
  double over = 0;       // percent of the periods with more than the limit
};

// Of periods of one length, counted from the begin of the span; the last may be cut off.
PerPeriod CountPeriods(const std::vector<Instant>& all, Instant from, Instant to, Millis length, std::size_t limit) {
  PerPeriod counted;
  std::size_t over = 0;
  for (std::size_t i = 0; i < all.size();) {
    const auto period = (all[i] - from) / length;
    std::size_t end = i;
    while (end < all.size() && (all[end] - from) / length == period) ++end;
    counted.most = std::max(counted.most, end - i);
    if (end - i > limit) ++over;
    i = end;
  }
  const auto periods = (to - from + length - Millis{1}) / length;
  counted.over = Percent(static_cast<double>(over), static_cast<double>(periods));
  return counted;
}

// The share of the alarms that speak most often, whatever they say.
double ShareOfMostFrequent(const std::vector<Told>& told, Instant from, Instant to, std::size_t all) {
  std::map<std::string, std::size_t> times;
  for (const Told& one : told) {
    times[one.what] +=
        static_cast<std::size_t>(std::ranges::count_if(one.at, [&](Instant at) { return at >= from && at < to; }));
  }
  std::vector<std::size_t> most;
  most.reserve(times.size());
  for (const auto& [what, count] : times) most.push_back(count);
  std::ranges::sort(most, std::ranges::greater{});
  most.resize(std::min(most.size(), kMostFrequent));
  const std::size_t theirs = std::accumulate(most.begin(), most.end(), std::size_t{0});
  return Percent(static_cast<double>(theirs), static_cast<double>(all));
}

// By a window of ten minutes that slides from telling to telling.
void CountFloods(const std::vector<Instant>& all, Instant from, Instant to, AlarmRates& rates) {
  std::deque<Instant> window;
  std::optional<Instant> since;
  Millis flooded{0};
  // The flood ends when so many have left the window that fewer than five are in it.
  const auto let_go = [&](Instant at) {
    while (!window.empty() && window.front() + kPeriod <= at) {
      const Instant leaves = window.front() + kPeriod;
      window.pop_front();
      if (since && window.size() < kFloodEnds) {
        flooded += leaves - *since;
        since.reset();
      }
    }
  };
  for (const Instant at : all) {
    let_go(at);
    window.push_back(at);
    if (since || window.size() <= kFloodBegins) continue;
    since = at;
    ++rates.floods;
  }
  let_go(to);
  if (since) flooded += to - *since;
  rates.flooded_time = Percent(static_cast<double>(flooded.count()), static_cast<double>((to - from).count()));
}

// What stood for more than 24 h, and had by some moment of the span.
void CountStale(const std::vector<Told>& told, Instant from, Instant to, AlarmRates& rates) {
  // +1 where an alarm becomes stale, -1 where it is over.
  std::vector<std::pair<Instant, int>> changes;
  for (const Told& one : told) {
    if (one.at.empty()) continue;
    const Instant over = std::min(one.over.value_or(to), to), stale = one.at.front() + kStale;
    if (over <= stale || over <= from) continue;
    ++rates.stale;
    changes.emplace_back(std::max(stale, from), 1);
    changes.emplace_back(over, -1);
  }
  std::ranges::sort(changes);
  int standing = 0;
  for (const auto& [at, change] : changes) {
    standing += change;
    rates.stale_most = std::max(rates.stale_most, static_cast<std::size_t>(std::max(0, standing)));
  }
}

void CountFleeting(const std::vector<Told>& told, Instant from, Instant to, AlarmRates& rates) {
  for (const Told& one : told) {
    if (one.at.empty() || one.at.front() < from || one.at.front() >= to) continue;
    if (one.over && *one.over - one.at.front() < kFleeting) ++rates.fleeting;
  }
}

// The same thing told three times within a minute, be it by one alarm or by one that came back under its name.
void CountChattering(const std::vector<Told>& told, Instant from, Instant to, AlarmRates& rates) {
  std::vector<std::pair<std::string, Instant>> all;
  for (const Told& one : told) {
    for (const Instant at : one.at) {
      if (at >= from && at < to) all.emplace_back(one.what, at);
    }
  }
  std::ranges::sort(all);
  std::string last;
  for (std::size_t i = 0; i + kChatterTimes - 1 < all.size(); ++i) {
    const auto& [what, at] = all[i];
    const auto& [other, then] = all[i + kChatterTimes - 1];
    if (what != other || then - at > kChatters || what == last) continue;
    ++rates.chattering;
    last = what;
  }
}

void CountSeverities(const std::vector<Told>& told, Instant from, Instant to, AlarmRates& rates) {
  double low = 0, medium = 0, high = 0;
  for (const Told& one : told) {
    if (std::ranges::none_of(one.at, [&](Instant at) { return at >= from && at < to; })) continue;
    (one.severity == Severity::kUrgent ? high : one.severity == Severity::kAct ? medium : low) += 1;
  }
  const double all = low + medium + high;
  rates.low = Percent(low, all);
  rates.medium = Percent(medium, all);
  rates.high = Percent(high, all);
}

}  // namespace

AlarmRates RatesOf(const std::vector<Told>& told, Instant from, Instant to) {
  AlarmRates rates;
  if (to <= from) return rates;
  const std::vector<Instant> all = AllTold(told, from, to);
  const double span = static_cast<double>((to - from).count());
  rates.told = all.size();
  rates.per_ten_minutes = static_cast<double>(all.size()) * static_cast<double>(kPeriod.count()) / span;
  rates.per_day = static_cast<double>(all.size()) * static_cast<double>(Millis{days{1}}.count()) / span;
  const PerPeriod periods = CountPeriods(all, from, to, kPeriod, kFloodBegins);
  rates.most_in_ten_minutes = periods.most;
  rates.flooded_periods = periods.over;
  rates.busy_hours = CountPeriods(all, from, to, kHour, kBusyHour).over;
  rates.ten_most_frequent = ShareOfMostFrequent(told, from, to, all.size());
  CountFloods(all, from, to, rates);
  CountStale(told, from, to, rates);
  CountFleeting(told, from, to, rates);
  CountChattering(told, from, to, rates);
  CountSeverities(told, from, to, rates);
  return rates;
}

}  // namespace rindwatch::rules
