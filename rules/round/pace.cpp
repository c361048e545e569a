#include "rules/round/pace.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace rindwatch::rules {

namespace {

constexpr std::size_t kNewest = 40;
constexpr std::size_t kEnough = 5;
// A gap this many times the usual, or more, held a pause; one this many times shorter was signed with others in one go.
constexpr double kPause = 4;
constexpr double kInOneGo = 5;

using Key = std::pair<std::vector<CareKind>, int>;

// What the later of two neighbouring ticks took for each wheel; none where that cannot be told.
std::optional<double> SecondsEach(const Tick& before, const Tick& tick) {
  if (before.keeper != tick.keeper || before.day != tick.day || tick.count < 1) return std::nullopt;
  const double change = before.rind == tick.rind ? 0 : static_cast<double>(kChangeTime.count());
  const double took = std::chrono::duration<double>(tick.at - before.at).count() - change;
  const double usual = UsualSeconds(tick.kinds, tick.weight) * tick.count;
  if (took < usual / kInOneGo || took > usual * kPause) return std::nullopt;
  return took / tick.count;
}

double MedianOfNewest(const std::vector<double>& seconds) {
  std::vector<double> newest(seconds.end() - static_cast<std::ptrdiff_t>(std::min(kNewest, seconds.size())),
                             seconds.end());
  std::ranges::sort(newest);
  const std::size_t middle = newest.size() / 2;
  return newest.size() % 2 == 1 ? newest[middle] : (newest[middle - 1] + newest[middle]) / 2;
}

}  // namespace

int InWholeMinutes(double seconds) {
  return seconds > 0 ? std::max(1, static_cast<int>(std::lround(seconds / 60))) : 0;
}

int ShownMinutes(double seconds) { return static_cast<int>(std::lround(seconds / 60)); }

void MinuteSum::AddLine(double seconds) {
  const int shown = ShownMinutes(seconds);
  shown_ += shown;
  if (shown == 0) not_shown_ += seconds;
}

int MinuteSum::Minutes() const {
  const int minutes = shown_ + ShownMinutes(not_shown_);
  return minutes == 0 ? InWholeMinutes(not_shown_) : minutes;
}

int WeightClassOf(Grams weight) {
  constexpr double kBounds[] = {1000, 3500, 6500, 15'000};  // between 250 g, 2, 5, 8 and 25 kg
  return static_cast<int>(std::ranges::count_if(kBounds, [&](double bound) { return weight.value >= bound; }));
}

Pace Pace::From(std::vector<Tick> ticks) {
  std::ranges::sort(ticks, {}, [](const Tick& tick) {
    return std::tie(tick.keeper, tick.at, tick.kinds, tick.count, tick.rind, tick.weight);
  });
  std::map<Key, std::vector<std::pair<Instant, double>>> seen;
  for (std::size_t i = 1; i < ticks.size(); ++i) {
    const Tick& tick = ticks[i];
    if (const auto each = SecondsEach(ticks[i - 1], tick))
      seen[{tick.kinds, WeightClassOf(tick.weight)}].emplace_back(tick.at, *each);
  }
  Pace pace;
  for (auto& [key, samples] : seen) {
    if (samples.size() < kEnough) continue;
    std::ranges::sort(samples);
    std::vector<double> seconds;
    for (const auto& [at, each] : samples) seconds.push_back(each);
    pace.learned_[key] = MedianOfNewest(seconds);
  }
  return pace;
}

bool Pace::Learned(const std::vector<CareKind>& kinds, Grams weight) const {
  return learned_.contains({kinds, WeightClassOf(weight)});
}

double Pace::SecondsOf(const std::vector<CareKind>& kinds, Grams weight) const {
  if (learned_.empty()) return UsualSeconds(kinds, weight);
  const auto found = learned_.find({kinds, WeightClassOf(weight)});
  return found == learned_.end() ? UsualSeconds(kinds, weight) : found->second;
}

}  // namespace rindwatch::rules
