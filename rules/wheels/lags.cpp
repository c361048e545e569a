#include "rules/wheels/lags.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules {
namespace {

// Terms each way: enough that the mean delay is true to a second.
constexpr int kTerms = 12;
constexpr std::size_t kCoreSecond = 1, kMeanSecond = 2, kSkinSecond = 3;

// The rate of a second lag that keeps the mean delay of the whole series, sum of share / rate.
double SecondRate(const std::vector<ConductionTerm>& terms, double ConductionTerm::*share) {
  double delay = 0;
  for (const ConductionTerm& term : terms) delay += term.*share / term.rate;
  const ConductionTerm& first = terms.front();
  return (1 - first.*share) / (delay - first.*share / first.rate);
}

}  // namespace

WheelLags::WheelLags(const WheelBody& body, double film, const CheeseMatter& matter) {
  const std::vector<ConductionTerm> terms = WheelTerms(body, matter, film, kTerms);
  rates_[0] = terms[0].rate;
  core_[0] = terms[0].core;
  core_[kCoreSecond] = 1 - core_[0];
  rates_[kCoreSecond] = SecondRate(terms, &ConductionTerm::core);
  mean_[0] = terms[0].mean;
  mean_[kMeanSecond] = 1 - mean_[0];
  rates_[kMeanSecond] = SecondRate(terms, &ConductionTerm::mean);
  double left = 1;
  skin_[0] = terms[0].skin;
  for (std::size_t i = kSkinSecond; i < kCount; ++i) {
    left -= i == kSkinSecond ? skin_[0] : skin_[i - 1];
    const ConductionTerm& term = terms[i - kSkinSecond + 1];
    rates_[i] = term.rate;
    skin_[i] = i + 1 == kCount ? left : term.skin;
  }
}

double WheelLags::Weighed(const Each& weights, const Each& followed) {
  double sum = 0;
  for (std::size_t i = 0; i < kCount; ++i) sum += weights[i] * followed[i];
  return sum;
}

WheelFollows WheelFollows::AtRest(double celsius) {
  WheelFollows follows;
  follows.at.fill(celsius);
  return follows;
}

void WheelFollows::Follow(const WheelLags& lags, double from, double to, double seconds) {
  if (seconds > 0) SteadySpan{lags, seconds}.Follow(*this, from, to);
}

SteadySpan::SteadySpan(const WheelLags& lags, double seconds) {
  for (std::size_t i = 0; i < WheelLags::kCount; ++i) {
    const double turns = lags.Rates()[i] * seconds;
    kept_[i] = std::exp(-turns);
    // Behind a straight line: slope / rate, less what the start still had of it.
    slope_[i] = turns > 0 ? -std::expm1(-turns) / turns : 1;
  }
}

void SteadySpan::Follow(WheelFollows& follows, double from, double to) const {
  for (std::size_t i = 0; i < WheelLags::kCount; ++i) {
    follows.at[i] = to + (follows.at[i] - from) * kept_[i] - (to - from) * slope_[i];
  }
}

}  // namespace rindwatch::rules
