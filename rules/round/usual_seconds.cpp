#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <span>

#include "rules/round/pace.hpp"

namespace rindwatch::rules {

namespace {

// Seconds for a wheel of so many grams; straight lines between, level beyond.
struct At {
  double grams, seconds;
};

// Estimates of practitioners (common practice, no source) but for the turning of 25 kg: 185 wheels of 25 kg in an
// afternoon by one person is about 78 s each. Ranges are taken at their middle.
constexpr At kTurn[] = {{250, 3}, {2000, 7}, {5000, 10}, {25'000, 70}};
constexpr At kWash[] = {{250, 8}, {2000, 30}, {8000, 60}, {35'000, 105}};
constexpr At kPat[] = {{0, 5}};
constexpr At kPierce[] = {{2000, 75}};
constexpr At kSeal[] = {{250, 45}, {2000, 60}, {8000, 90}};  // oil, coat, wax
constexpr At kWeigh[] = {{0, 10}};
constexpr At kTaste[] = {{0, 210}};  // a core and its note
// No figure of anybody's: from memory of the hand's work. Of brushing those at 2 and 8 kg are practitioners'.
constexpr At kBrush[] = {{250, 10}, {2000, 32}, {8000, 60}};
constexpr At kWipe[] = {{250, 5}, {2000, 15}, {8000, 30}};
constexpr At kWrap[] = {{250, 20}, {2000, 45}};
constexpr At kBandage[] = {{2000, 120}, {8000, 240}};
constexpr At kMove[] = {{250, 5}, {2000, 10}, {8000, 20}, {25'000, 60}};
constexpr At kLook[] = {{0, 5}};

std::span<const At> TableOf(CareKind kind) {
  switch (kind) {
    case CareKind::kTurn:
      return kTurn;
    case CareKind::kWash:
    case CareKind::kRub:
    case CareKind::kSalt:  // nobody's figure: taken to go over the rind as a wash does
      return kWash;
    case CareKind::kBrush:
      return kBrush;
    case CareKind::kPat:
      return kPat;
    case CareKind::kWipe:
      return kWipe;
    case CareKind::kOil:
    case CareKind::kCoat:
    case CareKind::kWax:
      return kSeal;
    case CareKind::kPierce:
      return kPierce;
    case CareKind::kWrap:
      return kWrap;
    case CareKind::kMove:
      return kMove;
    case CareKind::kLook:
      return kLook;
    case CareKind::kWeigh:
      return kWeigh;
    case CareKind::kBandage:
      return kBandage;
    case CareKind::kTaste:
      return kTaste;
  }
  return kLook;
}

}  // namespace

double UsualSeconds(CareKind kind, Grams weight) {
  const std::span<const At> table = TableOf(kind);
  const auto above = std::ranges::find_if(table, [&](const At& at) { return at.grams >= weight.value; });
  if (above == table.begin()) return table.front().seconds;
  if (above == table.end()) return table.back().seconds;
  const At& below = *std::prev(above);
  return std::lerp(below.seconds, above->seconds, (weight.value - below.grams) / (above->grams - below.grams));
}

double UsualSeconds(const std::vector<CareKind>& kinds, Grams weight) {
  return std::accumulate(kinds.begin(), kinds.end(), 0.0,
                         [&](double sum, CareKind kind) { return sum + UsualSeconds(kind, weight); });
}

}  // namespace rindwatch::rules
