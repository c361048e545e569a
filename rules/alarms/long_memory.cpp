#include "rules/alarms/long_memory.hpp"

#include <cmath>

namespace rindwatch::rules::watch {
namespace {

// A day that was heard for less than half of its minutes shows only a part of what it is.
constexpr std::int64_t kLeastOfDay = 720;

}  // namespace

void DayMost::Learn(std::int64_t day, std::int64_t value) {
  if (day - day_ >= static_cast<std::int64_t>(kDays)) most_ = {};
  for (; day_ < day; ++day_) most_[static_cast<std::size_t>(day_ + 1) % kDays] = 0;
  std::int64_t& today = most_[static_cast<std::size_t>(day) % kDays];
  today = std::max(today, value);
}

std::int64_t DayMost::Longest(std::int64_t day) const {
  std::int64_t longest = 0;
  for (std::size_t back = 0; back < kDays; ++back) {
    const std::int64_t of = day_ - static_cast<std::int64_t>(back);
    if (of < 0 || day - of >= static_cast<std::int64_t>(kDays)) continue;
    longest = std::max(longest, most_[static_cast<std::size_t>(of) % kDays]);
  }
  return longest;
}

std::int64_t DayMost::UsualMost(std::int64_t day) const {
  std::vector<std::int64_t> days;
  for (std::size_t back = 0; back < kDays; ++back) {
    const std::int64_t of = day_ - static_cast<std::int64_t>(back);
    if (of < 0 || day - of >= static_cast<std::int64_t>(kDays)) continue;
    const std::int64_t most = most_[static_cast<std::size_t>(of) % kDays];
    if (most > 0) days.push_back(most);
  }
  if (days.empty()) return 0;
  const auto middle = days.begin() + static_cast<std::ptrdiff_t>(days.size() / 2);
  std::ranges::nth_element(days, middle);
  return *middle;
}

void DaySpread::Add(std::int64_t day, double value) {
  if (day > day_) {
    Close();
    day_ = day;
    first_ = std::round(value / kBin) * kBin;
  }
  const double place = std::floor((value - first_) / kBin) + static_cast<double>(kHalf);
  ++bins_[static_cast<std::size_t>(std::clamp(place, 0.0, static_cast<double>(kBins - 1)))];
}

void DaySpread::Close() {
  std::int64_t heard = 0;
  for (const std::int64_t count : bins_) heard += count;
  const auto high = Quantile(0.9), low = Quantile(0.1);
  if (!spoiled_ && heard >= kLeastOfDay && high && low) {
    high_[next_] = *high;
    low_[next_] = *low;
    next_ = (next_ + 1) % kDays;
    learned_ = std::min(learned_ + 1, kDays);
    WorkOut();
  }
  bins_ = {};
  spoiled_ = false;
}

void DaySpread::WorkOut() {
  usual_high_ = Median(high_);
  usual_low_ = Median(low_);
}

std::optional<double> DaySpread::Quantile(double share) const {
  std::int64_t all = 0;
  for (const std::int64_t count : bins_) all += count;
  if (all == 0) return std::nullopt;
  const double wanted = share * static_cast<double>(all);
  double passed = 0;
  for (std::size_t i = 0; i < kBins; ++i) {
    const auto here = static_cast<double>(bins_[i]);
    if (passed + here >= wanted && here > 0) {
      return first_ + kBin * (static_cast<double>(i) - static_cast<double>(kHalf) + (wanted - passed) / here);
    }
    passed += here;
  }
  return std::nullopt;
}

std::optional<double> DaySpread::Median(const std::array<double, kDays>& of) const {
  if (learned_ == 0) return std::nullopt;
  std::array<double, kDays> sorted = of;
  const auto end = sorted.begin() + static_cast<std::ptrdiff_t>(learned_);
  std::sort(sorted.begin(), end);
  const double upper = sorted[learned_ / 2];
  return learned_ % 2 == 1 ? upper : (sorted[learned_ / 2 - 1] + upper) / 2;
}

std::optional<double> FallingLegs::Add(std::int64_t minute, double value) {
  if (!begun_) {
    begun_ = true;
    top_ = low_ = value;
    top_at_ = low_at_ = minute;
    return std::nullopt;
  }
  if (falls_) {
    if (value < low_) {
      low_ = value;
      low_at_ = minute;
    }
    if (value < low_ + kTurns) return std::nullopt;
    const auto took = static_cast<double>(std::max<std::int64_t>(1, low_at_ - top_at_));
    const double rate = (top_ - low_) / took;
    falls_ = false;
    top_ = value;
    top_at_ = minute;
    return rate;
  }
  if (value >= top_) {
    top_ = value;
    top_at_ = minute;
  }
  if (value <= top_ - kTurns) {
    falls_ = true;
    low_ = value;
    low_at_ = minute;
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules::watch
