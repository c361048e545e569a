#include "rules/wheels/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace rindwatch::rules {
namespace {

constexpr double kTaus[] = {2, 4, 8, 16, 32};  // h
constexpr int kColdestEnd = 11, kWarmestEnd = 29;
constexpr double kLeastAbove = 0.5;
constexpr double kDeviation = 0.1, kLasting = 10;
constexpr double kPaces[] = {0.7, 1, 1.45}, kWrongBy[] = {-0.3, 0, 0.3};
constexpr double kNever = std::numeric_limits<double>::infinity();

// The air goes from `now` to `end` with a time constant.
struct AirCourse {
  double end, now, tau;  // tau in seconds
};

struct Fit {
  AirCourse course;
  double error;  // sum of squares
};

// The best line through the readings for this end and time constant: only its height is free.
Fit FitOf(std::span<const double> air, double end, double tau) {
  double products = 0, squares = 0;
  const auto count = static_cast<double>(air.size());
  for (std::size_t i = 0; i < air.size(); ++i) {
    const double shape = std::exp((count - 1 - static_cast<double>(i)) * 60 / tau);  // 1 now, more before
    products += shape * (air[i] - end);
    squares += shape * shape;
  }
  const double gap = products / squares;
  double error = 0;
  for (std::size_t i = 0; i < air.size(); ++i) {
    const double shape = std::exp((count - 1 - static_cast<double>(i)) * 60 / tau);
    const double off = air[i] - end - gap * shape;
    error += off * off;
  }
  return {{end, end + gap, tau}, error};
}

// The wheel under a course, followed at a pace: closed form for the two lags of the core.
class Ahead {
 public:
  Ahead(const AirCourse& air, const WheelLags& lags, const WheelFollows& follows, double pace)
      : end_(air.end), per_tau_(1 / air.tau) {
    for (std::size_t i = 0; i < WheelLags::kCount; ++i) {
      const double weight = lags.CoreWeights()[i];
      if (weight == 0) continue;
      double rate = lags.Rates()[i] * pace;
      if (std::abs(rate - per_tau_) < 1e-9) rate += 1e-8;  // the two never quite the same
      const double drawn = (air.now - air.end) * rate / (rate - per_tau_);
      air_ += weight * drawn;
      parts_[used_++] = {rate, weight * (follows.at[i] - air.end - drawn)};
    }
  }
  double At(double seconds) const {
    double core = end_ + air_ * std::exp(-seconds * per_tau_);
    for (std::size_t i = 0; i < used_; ++i) core += parts_[i].share * std::exp(-seconds * parts_[i].rate);
    return core;
  }
  // Seconds to `limit`; never if it lies beyond the farthest outlook.
  double Crosses(double limit) const {
    if (At(0) >= limit) return 0;
    if (At(kFarthestOutlook) < limit) return kNever;
    double before = 0, after = kFarthestOutlook;
    while (after - before > 60) {
      const double middle = (before + after) / 2;
      (At(middle) < limit ? before : after) = middle;
    }
    return after;
  }

 private:
  struct Part {
    double rate = 0, share = 0;
  };
  double end_, per_tau_, air_ = 0;
  std::array<Part, WheelLags::kCount> parts_{};
  std::size_t used_ = 0;
};

struct Weighed {
  double value, weight;  // seconds, or degrees
};

double QuantileOf(const std::vector<Weighed>& sorted, double share) {
  double all = 0, passed = 0;
  for (const Weighed& one : sorted) all += one.weight;
  for (const Weighed& one : sorted) {
    passed += one.weight;
    if (passed >= share * all) return one.value;
  }
  return kNever;
}

// The middle 80 % of the times to cross.
std::optional<Outlook> MiddleOf(std::vector<Weighed> times) {
  std::ranges::sort(times, {}, &Weighed::value);
  const double soonest = QuantileOf(times, 0.1), latest = QuantileOf(times, 0.9);
  if (soonest == kNever) return std::nullopt;
  return Outlook{soonest, latest == kNever ? std::nullopt : std::optional{latest}};
}

std::vector<Fit> Fits(std::span<const double> air) {
  std::vector<Fit> fits;
  for (const double tau : kTaus) {
    for (int end = kColdestEnd; end <= kWarmestEnd; ++end) {
      if (end > air.back() + kLeastAbove) fits.push_back(FitOf(air, end, tau * 3600));
    }
  }
  return fits;
}

// How well a fit stands beside the best; nothing where it hardly counts.
double WeightOf(const Fit& fit, double best) {
  const double weight = std::exp(-(fit.error - best) / (2 * kDeviation * kDeviation * kLasting));
  return weight < 1e-4 ? 0 : weight;
}

}  // namespace

std::vector<AirSpan> HowFar(std::span<const double> air) {
  if (air.size() < kLeastAir) return {};
  if (air.size() > kMostAir) air = air.last(kMostAir);
  const std::vector<Fit> fits = Fits(air);
  if (fits.empty()) return {};
  const double best = std::ranges::min_element(fits, {}, &Fit::error)->error;
  std::vector<AirSpan> spans{{0, air.back(), air.back()}};
  for (int half_hours = 1; half_hours <= 8; ++half_hours) {
    const double seconds = 1800.0 * half_hours;
    std::vector<Weighed> values;
    for (const Fit& fit : fits) {
      const auto& [end, now, tau] = fit.course;
      if (const double weight = WeightOf(fit, best); weight > 0) {
        values.push_back({end + (now - end) * std::exp(-seconds / tau), weight});
      }
    }
    std::ranges::sort(values, {}, &Weighed::value);
    spans.push_back({seconds, QuantileOf(values, 0.1), QuantileOf(values, 0.9)});
  }
  return spans;
}

std::optional<Outlook> HowLong(std::span<const double> air, const WheelLags& lags, const WheelFollows& follows,
                               double below, double limit) {
  if (lags.Core(follows.at) - below >= limit) return Outlook{0, 0.0};
  if (air.size() < kLeastAir) return std::nullopt;
  if (air.size() > kMostAir) air = air.last(kMostAir);
  const std::vector<Fit> fits = Fits(air);
  if (fits.empty()) return std::nullopt;
  const double best = std::ranges::min_element(fits, {}, &Fit::error)->error;
  std::vector<Weighed> times;
  for (const Fit& fit : fits) {
    const double weight = WeightOf(fit, best);
    if (weight == 0) continue;
    for (const double pace : kPaces) {
      const Ahead ahead(fit.course, lags, follows, pace);
      for (const double wrong : kWrongBy) times.push_back({ahead.Crosses(limit + below - wrong), weight});
    }
  }
  return MiddleOf(std::move(times));
}

namespace {

// For each course that nobody hears, at each pace.
template <typename See>
void AlongUnheard(double air, const WheelLags& lags, const WheelFollows& follows, See see) {
  for (const double tau : kTaus) {
    for (int end = kColdestEnd; end <= kWarmestEnd; ++end) {
      if (end <= air + kLeastAbove) continue;
      const auto to = static_cast<double>(end);
      for (const double pace : kPaces) see(Ahead({to, air, tau * 3600}, lags, follows, pace));
    }
  }
}

}  // namespace

std::optional<Outlook> HowLongUnheard(double air, const WheelLags& lags, const WheelFollows& follows, double limit) {
  if (lags.Core(follows.at) >= limit) return Outlook{0, 0.0};
  std::vector<Weighed> times;
  AlongUnheard(air, lags, follows, [&](const Ahead& ahead) {
    for (const double wrong : kWrongBy) times.push_back({ahead.Crosses(limit - wrong), 1});
  });
  if (times.empty()) return std::nullopt;
  return MiddleOf(std::move(times));
}

std::optional<CoreSpan> CoreUnheard(double air, const WheelLags& lags, const WheelFollows& follows, double seconds) {
  std::vector<Weighed> cores;
  AlongUnheard(air, lags, follows, [&](const Ahead& ahead) {
    for (const double wrong : kWrongBy) cores.push_back({ahead.At(seconds) + wrong, 1});
  });
  if (cores.empty()) return std::nullopt;
  std::ranges::sort(cores, {}, &Weighed::value);
  return CoreSpan{QuantileOf(cores, 0.1), QuantileOf(cores, 0.9)};
}

std::optional<Outlook> HowLongAtRest(double air, const WheelLags& lags, const WheelFollows& follows, double below,
                                     double limit) {
  constexpr double kRests = 0.5;    // K
  constexpr double kAnyTau = 3600;  // air that is at its end goes nowhere
  if (lags.Core(follows.at) - below >= limit) return Outlook{0, 0.0};
  std::vector<Weighed> times;
  for (const double off : {-kRests, 0.0, kRests}) {
    for (const double pace : kPaces) {
      const Ahead ahead({air + off, air + off, kAnyTau}, lags, follows, pace);
      for (const double wrong : kWrongBy) times.push_back({ahead.Crosses(limit + below - wrong), 1});
    }
  }
  return MiddleOf(std::move(times));
}

}  // namespace rindwatch::rules
