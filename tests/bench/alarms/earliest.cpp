#include "tests/bench/alarms/earliest.hpp"

#include <algorithm>
#include <deque>
#include <vector>

namespace rindwatch::bench {
namespace {

// As the rule of the excursion has them.
constexpr double kAbove = 0.5, kEndsBelow = 0.2;  // K
constexpr std::size_t kMinutes = 10;
constexpr int kSettled = 24 * 60;  // by then the simulated fridge has come to its own rhythm

std::vector<double> MeansOf(const Course& course) {
  std::vector<double> means;
  std::deque<double> last;
  double mean = 0;
  for (const Minute& minute : course.minutes) {
    if (minute.temperature != Minute::kNothing) {
      last.push_back(minute.temperature / 100.0);
      if (last.size() > kMinutes) last.pop_front();
      mean = 0;
      for (const double one : last) mean += one / static_cast<double>(last.size());
    }
    means.push_back(mean);
  }
  return means;
}

// Above the usual, and for how long it has risen there.
class Excursion {
 public:
  explicit Excursion(double usual) : usual_(usual) {}
  int RisesFor(int minute, double mean) {
    if (mean <= usual_ - (open_ ? kEndsBelow : 0))
      open_ = false;
    else if (!open_ || mean > peak_) {
      if (!open_) since_ = minute;
      open_ = true;
      peak_ = mean;
      rises_for_ = minute - since_;
      return rises_for_;
    }
    return open_ ? rises_for_ : 0;
  }

 private:
  double usual_, peak_ = 0;
  bool open_ = false;
  int since_ = 0, rises_for_ = 0;
};

}  // namespace

Harmless HarmlessOf(const Course& course) {
  const std::vector<double> means = MeansOf(course);
  std::vector<double> sorted(means.begin() + kSettled, means.end());
  const auto ninth = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() * 9 / 10);
  std::ranges::nth_element(sorted, ninth);
  Harmless harmless{.usual = *ninth + kAbove};
  Excursion excursion(harmless.usual);
  for (int m = kSettled; m < static_cast<int>(means.size()); ++m) {
    const double mean = means[static_cast<std::size_t>(m)];
    harmless.highest = std::max(harmless.highest, mean);
    harmless.longest_turn = std::max(harmless.longest_turn, excursion.RisesFor(m, mean));
  }
  return harmless;
}

std::optional<int> ToldApart(const Course& course, const Harmless& harmless) {
  const std::vector<double> means = MeansOf(course);
  Excursion excursion(harmless.usual);
  for (int m = course.begins.value_or(0); m < static_cast<int>(means.size()); ++m) {
    const double mean = means[static_cast<std::size_t>(m)];
    if (mean > harmless.highest || excursion.RisesFor(m, mean) > harmless.longest_turn) return m;
  }
  return std::nullopt;
}

}  // namespace rindwatch::bench
