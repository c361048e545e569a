#include <algorithm>

#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {
namespace {

constexpr double kStep = 1.02;        // by which the median is followed
constexpr double kMuchLonger = 2.5;   // times the typical
constexpr double kPaced = 0.85;       // share of the time, from which on a channel has a pace
constexpr double kOver = 86'400'000;  // milliseconds over which that share is taken
constexpr Millis kNoPace{500};        // two channels of one message
constexpr Millis kWorthLearning = std::chrono::minutes{2};
// It is missed when it is silent for longer than usual by this much; no gap beyond the most is usual.
constexpr double kBeyondUsual = 1.3;
constexpr Millis kMost = std::chrono::hours{6};

}  // namespace

void UsualGaps::Learn(Millis gap, bool told, Instant at) {
  if (gap < kNoPace || (told && paced >= kPaced)) return;
  const auto length = static_cast<double>(gap.count());
  typical = typical == 0 ? length : length > typical ? typical * kStep : typical / kStep;
  const double share = length <= kMuchLonger * typical ? 1 : 0;
  paced += (share - paced) * std::min(1.0, length / kOver);
  if (gap < kWorthLearning) return;
  const std::int64_t day = at.time_since_epoch() / std::chrono::days{1};
  longest.Learn(day, std::min(gap, kMost) / std::chrono::minutes{1});
  // Nothing longer was learned, but a damaged text may say so.
  const auto most =
      static_cast<double>(std::min<std::int64_t>(longest.UsualMost(day), kMost / std::chrono::minutes{1}));
  usual = paced >= kPaced ? Millis{0} : Millis{static_cast<Millis::rep>(kBeyondUsual * most * 60'000)};
}

}  // namespace rindwatch::rules::watch
