#include "tests/rules/wheels/finite_differences.hpp"

#include <Eigen/SparseCore>
#include <Eigen/SparseLU>
#include <numbers>
#include <vector>

namespace rindwatch::rules {

namespace {
constexpr int kRings = 24, kLayers = 24;  // the lower half only: the wheel is the same upside down
constexpr int kCells = kRings * kLayers;
int Cell(int ring, int layer) { return layer * kRings + ring; }
}  // namespace

struct FiniteDifferences::Body {
  Eigen::VectorXd celsius, volume, from_air;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> solver;
};

// Crank and Nicolson's mean of both ends is replaced by the fully implicit end, which no corner can make ring; steps
// are short instead.
FiniteDifferences::FiniteDifferences(const WheelBody& body, const CheeseMatter& matter, double film, double celsius,
                                     double step_seconds)
    : body_(std::make_unique<Body>()) {
  const double dr = body.radius / kRings, dz = body.height / 2 / kLayers, pi = std::numbers::pi;
  Body& b = *body_;
  b.celsius = Eigen::VectorXd::Constant(kCells, celsius);
  b.volume = b.from_air = Eigen::VectorXd::Zero(kCells);
  std::vector<Eigen::Triplet<double>> entries;
  const auto join = [&](int a, int c, double conductance) {
    entries.emplace_back(a, a, conductance);
    entries.emplace_back(c, c, conductance);
    entries.emplace_back(a, c, -conductance);
    entries.emplace_back(c, a, -conductance);
  };
  for (int layer = 0; layer < kLayers; ++layer) {
    for (int ring = 0; ring < kRings; ++ring) {
      const int cell = Cell(ring, layer);
      const double inner = ring * dr, outer = inner + dr, face = pi * (outer * outer - inner * inner);
      b.volume[cell] = face * dz;
      if (ring + 1 < kRings) join(cell, Cell(ring + 1, layer), matter.conductivity * 2 * pi * outer * dz / dr);
      if (layer + 1 < kLayers) join(cell, Cell(ring, layer + 1), matter.conductivity * face / dz);
      const auto meets_air = [&](double area, double half) {
        b.from_air[cell] += area / (1 / film + half / matter.conductivity);
      };
      if (ring + 1 == kRings) meets_air(2 * pi * outer * dz, dr / 2);
      if (layer + 1 == kLayers) meets_air(face, dz / 2);
    }
  }
  for (int cell = 0; cell < kCells; ++cell) {
    b.volume[cell] *= matter.density * matter.heat_capacity / step_seconds;
    entries.emplace_back(cell, cell, b.volume[cell] + b.from_air[cell]);
  }
  Eigen::SparseMatrix<double> matrix(kCells, kCells);
  matrix.setFromTriplets(entries.begin(), entries.end());
  b.solver.compute(matrix);
}

FiniteDifferences::~FiniteDifferences() = default;

void FiniteDifferences::Step(double air) {
  Body& b = *body_;
  const Eigen::VectorXd right = b.volume.cwiseProduct(b.celsius) + b.from_air * air;
  b.celsius = b.solver.solve(right);
}

double FiniteDifferences::Core() const {
  const Eigen::VectorXd& t = body_->celsius;
  return t[Cell(0, 0)] + (t[Cell(0, 0)] - t[Cell(1, 0)]) / 8;
}

double FiniteDifferences::Mean() const { return body_->volume.dot(body_->celsius) / body_->volume.sum(); }

}  // namespace rindwatch::rules
