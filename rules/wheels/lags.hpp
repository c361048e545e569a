// A wheel's own temperature from the history of its air, without a series at run time: two lags for the core, two for
// the mean, six for the skin, the slowest shared. Small values; one thread at a time.
#pragma once

#include <array>
#include <cstddef>

#include "rules/wheels/conduction.hpp"
#include "rules/wheels/rind.hpp"

namespace rindwatch::rules {

// What wheels of one size and rind have in common. Worked out once; immutable.
//
// The first lag is the slowest term of the series, with its rate and weight. The second of core and mean takes the rest
// of the weight, at the rate that keeps the mean delay: a step of 8 K is followed within 0.1 K by wheels up to 8 kg.
// The skin answers at once in part and needs six.
class WheelLags {
 public:
  static constexpr std::size_t kCount = 8;
  using Each = std::array<double, kCount>;

  WheelLags() = default;
  WheelLags(const WheelBody& body, double film, const CheeseMatter& matter = {});

  // Seconds in which the slowest lag closes 63 %.
  double Slowest() const { return 1 / rates_[0]; }
  const Each& Rates() const { return rates_; }  // 1/s
  double Core(const Each& followed) const { return Weighed(core_, followed); }
  double Mean(const Each& followed) const { return Weighed(mean_, followed); }
  double Skin(const Each& followed) const { return Weighed(skin_, followed); }
  const Each& CoreWeights() const { return core_; }

 private:
  static double Weighed(const Each& weights, const Each& followed);
  Each rates_{}, core_{}, mean_{}, skin_{};
};

// What follows the air: one value for each lag, degrees Celsius.
struct WheelFollows {
  WheelLags::Each at{};

  static WheelFollows AtRest(double celsius);
  // The air went by a straight line from one value to the other in `seconds`. Exact for any span.
  void Follow(const WheelLags& lags, double from, double to, double seconds);
  bool operator==(const WheelFollows&) const = default;
};

// The factors of a span that comes again and again.
class SteadySpan {
 public:
  SteadySpan() = default;
  SteadySpan(const WheelLags& lags, double seconds);
  // As WheelFollows::Follow over that span.
  void Follow(WheelFollows& follows, double from, double to) const;

 private:
  WheelLags::Each kept_{}, slope_{};
};

}  // namespace rindwatch::rules
