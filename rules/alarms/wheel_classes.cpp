#include "rules/alarms/wheel_classes.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules::watch {
namespace {

constexpr double kStep = 0.25, kLeastGrams = 100;
constexpr double kUnknownSoft = 250, kUnknown = 2000;
constexpr int kFree[] = {80, 40, 25, 25};  // hundredths, by hardiness: soft, blue, semi-hard, hard

}  // namespace

std::shared_ptr<const ClassLags> LagsOf(const WheelClass& kind) {
  auto made = std::make_shared<ClassLags>();
  made->rind = {kind.evaporates / 100.0, kind.boxed};
  made->lags = WheelLags(UsualBody(Grams{kLeastGrams * std::exp(kind.size * kStep)}), made->rind.Film());
  made->minute = SteadySpan(made->lags, 60);
  return made;
}

WheelClass ClassOf(Grams weight, int hardiness, bool boxed) {
  const int firm = std::clamp(hardiness, 0, 3);
  const double grams = weight.value > 0 ? weight.value : firm == 0 ? kUnknownSoft : kUnknown;
  const double steps = std::round(std::log(std::clamp(grams, 20.0, 100'000.0) / kLeastGrams) / kStep);
  return {static_cast<int>(steps), kFree[firm], boxed};
}

}  // namespace rindwatch::rules::watch
