#include "rules/wheels/conduction.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rindwatch::rules {
namespace {

constexpr double kPi = std::numbers::pi;

// Weight and height to diameter of usual wheels.
struct Usual {
  double grams, ratio;
};
constexpr Usual kUsual[] = {{250, 3.2 / 11}, {2000, 7.0 / 20}, {8000, 11.0 / 30}, {25000, 26.0 / 36}};

double UsualRatio(double grams) {
  if (grams <= kUsual[0].grams) return kUsual[0].ratio;
  for (std::size_t i = 1; i < std::size(kUsual); ++i) {
    const Usual &below = kUsual[i - 1], &above = kUsual[i];
    if (grams > above.grams) continue;
    const double share = std::log(grams / below.grams) / std::log(above.grams / below.grams);
    return below.ratio + share * (above.ratio - below.ratio);
  }
  return kUsual[std::size(kUsual) - 1].ratio;
}

// `crosses` changes its sign between the two.
template <typename Function>
double Bisect(Function crosses, double low, double high) {
  const bool rises = crosses(high) > 0;
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = (low + high) / 2;
    ((crosses(middle) > 0) == rises ? high : low) = middle;
  }
  return (low + high) / 2;
}

double J0(double x) { return std::cyl_bessel_j(0.0, x); }
double J1(double x) { return std::cyl_bessel_j(1.0, x); }

ConductionTerm CylinderTerm(double root) {
  const double j0 = J0(root), j1 = J1(root);
  const double share = 2 / root * j1 / (j0 * j0 + j1 * j1);
  return {root * root, share, share * 2 * j1 / root, share * j0};
}

}  // namespace

double WheelBody::Volume() const { return kPi * radius * radius * height; }
double WheelBody::Skin() const { return 2 * kPi * radius * (radius + height); }
double WheelBody::VolumeToSkin() const { return Volume() / Skin(); }

WheelBody UsualBody(Grams weight, const CheeseMatter& matter) {
  const double ratio = UsualRatio(weight.value);
  const double volume = weight.value / 1000 / matter.density;
  const double diameter = std::cbrt(4 * volume / (kPi * ratio));
  return {diameter / 2, diameter * ratio};
}

std::vector<ConductionTerm> PlaneWallTerms(double biot, int count) {
  std::vector<ConductionTerm> terms;
  const auto crosses = [biot](double x) { return x * std::sin(x) - biot * std::cos(x); };
  for (int n = 0; n < count; ++n) {
    const double root = Bisect(crosses, n * kPi, (n + 0.5) * kPi);
    const double share = 4 * std::sin(root) / (2 * root + std::sin(2 * root));
    terms.push_back({root * root, share, share * std::sin(root) / root, share * std::cos(root)});
  }
  return terms;
}

std::vector<ConductionTerm> CylinderTerms(double biot, int count) {
  std::vector<ConductionTerm> terms;
  const auto crosses = [biot](double x) { return x * J1(x) - biot * J0(x); };
  // The roots lie about pi apart, the first anywhere above 0.
  constexpr double kStride = 0.1;
  double before = 0, at_before = -biot;
  while (static_cast<int>(terms.size()) < count) {
    const double here = before + kStride, at_here = crosses(here);
    if (at_before * at_here <= 0) terms.push_back(CylinderTerm(Bisect(crosses, before, here)));
    before = here;
    at_before = at_here;
  }
  return terms;
}

std::vector<ConductionTerm> WheelTerms(const WheelBody& body, const CheeseMatter& matter, double film, int each_way) {
  const double half = body.height / 2;
  const double diffusivity = matter.conductivity / (matter.density * matter.heat_capacity);
  const auto across = CylinderTerms(film * body.radius / matter.conductivity, each_way);
  const auto upward = PlaneWallTerms(film * half / matter.conductivity, each_way);
  const double face_share = body.radius / (body.radius + body.height);  // of the skin: top and underside
  std::vector<ConductionTerm> terms;
  for (const ConductionTerm& r : across) {
    for (const ConductionTerm& z : upward) {
      terms.push_back({diffusivity * (r.rate / (body.radius * body.radius) + z.rate / (half * half)), r.core * z.core,
                       r.mean * z.mean, face_share * r.mean * z.skin + (1 - face_share) * r.skin * z.mean});
    }
  }
  std::ranges::sort(terms, {}, &ConductionTerm::rate);
  return terms;
}

ShareLeft LeftAfter(const std::vector<ConductionTerm>& terms, double seconds) {
  ShareLeft left;
  for (const ConductionTerm& term : terms) {
    const double faded = std::exp(-term.rate * seconds);
    left.core += term.core * faded;
    left.mean += term.mean * faded;
    left.skin += term.skin * faded;
  }
  return left;
}

double SlowestSeconds(const WheelBody& body, const CheeseMatter& matter, double film) {
  const double length = body.VolumeToSkin();
  const double biot = film * length / matter.conductivity;
  return matter.density * matter.heat_capacity / film * length * (1 + 0.85 * biot);
}

}  // namespace rindwatch::rules
