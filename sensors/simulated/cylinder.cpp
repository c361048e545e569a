#include "sensors/simulated/cylinder.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace rindwatch::sensors::simulated {

namespace {

constexpr double kPi = std::numbers::pi;
// Share of the explicit method's bound that a step may use.
constexpr double kSafety = 0.9;

}  // namespace

double WheelShape::Volume() const { return FaceArea() * height; }
double WheelShape::FaceArea() const { return kPi * radius * radius; }
double WheelShape::SideArea() const { return 2 * kPi * radius * height; }

Cylinder::Cylinder(const WheelShape& shape, const WheelMatter& matter, double celsius, std::size_t rings,
                   std::size_t layers)
    : rings_(rings), layers_(layers), celsius_(rings * layers, celsius), flow_(rings * layers) {
  BuildCells(shape, matter);
  BuildPatches(shape, matter);
  FindLongestStep();
}

void Cylinder::BuildCells(const WheelShape& shape, const WheelMatter& matter) {
  const double width = shape.radius / static_cast<double>(rings_);
  const double thickness = shape.height / static_cast<double>(layers_);
  for (std::size_t ring = 0; ring < rings_; ++ring) {
    const double inner = width * static_cast<double>(ring);
    const double outer = inner + width;
    const double face = kPi * (outer * outer - inner * inner);
    per_capacity_.push_back(1 / (matter.density * matter.heat_capacity * face * thickness));
    upward_.push_back(matter.conductivity * face / thickness);
    // The outermost ring has no neighbour; its skin is a patch.
    outward_.push_back(ring + 1 < rings_ ? matter.conductivity * 2 * kPi * outer * thickness / width : 0);
  }
  heat_capacity_ = matter.density * matter.heat_capacity * shape.Volume();
}

void Cylinder::BuildPatches(const WheelShape& shape, const WheelMatter& matter) {
  for (std::size_t ring = 0; ring < rings_; ++ring) {
    // Half a layer lies between the skin and the middle of a cell.
    const double conductance = 2 * upward_[ring];
    const double area = upward_[ring] / matter.conductivity * shape.height / static_cast<double>(layers_);
    patches_.push_back({Face::kUnderside, area, conductance, Index(ring, 0)});
    patches_.push_back({Face::kTop, area, conductance, Index(ring, layers_ - 1)});
  }
  const double width = shape.radius / static_cast<double>(rings_);
  const double area = shape.SideArea() / static_cast<double>(layers_);
  for (std::size_t layer = 0; layer < layers_; ++layer) {
    patches_.push_back({Face::kSide, area, matter.conductivity * area / (width / 2), Index(rings_ - 1, layer)});
  }
}

void Cylinder::FindLongestStep() {
  std::vector<double> leaving(celsius_.size(), 0);
  for (const Patch& patch : patches_) leaving[patch.cell] += patch.conductance;
  longest_step_ = std::numeric_limits<double>::infinity();
  for (std::size_t layer = 0; layer < layers_; ++layer) {
    for (std::size_t ring = 0; ring < rings_; ++ring) {
      double all = leaving[Index(ring, layer)] + outward_[ring] + (ring > 0 ? outward_[ring - 1] : 0);
      if (layer > 0) all += upward_[ring];
      if (layer + 1 < layers_) all += upward_[ring];
      longest_step_ = std::min(longest_step_, kSafety / (per_capacity_[ring] * all));
    }
  }
}

void Cylinder::Conduct(std::span<const double> inflow, double seconds) {
  const auto pieces = static_cast<std::int64_t>(std::ceil(seconds / longest_step_));
  for (std::int64_t piece = 0; piece < pieces; ++piece) ConductOnce(inflow, seconds / static_cast<double>(pieces));
}

void Cylinder::ConductOnce(std::span<const double> inflow, double seconds) {
  std::fill(flow_.begin(), flow_.end(), 0.0);
  for (std::size_t i = 0; i < patches_.size(); ++i) flow_[patches_[i].cell] += inflow[i];
  for (std::size_t layer = 0; layer < layers_; ++layer) {
    const double* here = &celsius_[Index(0, layer)];
    double* flow = &flow_[Index(0, layer)];
    for (std::size_t ring = 0; ring + 1 < rings_; ++ring) {
      const double outward = outward_[ring] * (here[ring] - here[ring + 1]);
      flow[ring] -= outward;
      flow[ring + 1] += outward;
    }
    if (layer + 1 == layers_) break;
    for (std::size_t ring = 0; ring < rings_; ++ring) {
      const double upward = upward_[ring] * (here[ring] - here[rings_ + ring]);
      flow[ring] -= upward;
      flow[rings_ + ring] += upward;
    }
  }
  for (std::size_t layer = 0; layer < layers_; ++layer) {
    for (std::size_t ring = 0; ring < rings_; ++ring) {
      celsius_[Index(ring, layer)] += flow_[Index(ring, layer)] * seconds * per_capacity_[ring];
    }
  }
}

double Cylinder::Core() const {
  const auto axis = [this](std::size_t layer) {
    const double first = celsius_[Index(0, layer)];
    if (rings_ == 1) return first;
    return first + (first - celsius_[Index(1, layer)]) / 8;
  };
  const double middle = axis(layers_ / 2);
  return layers_ % 2 == 1 ? middle : (middle + axis(layers_ / 2 - 1)) / 2;
}

double Cylinder::Mean() const {
  double heat = 0;
  for (std::size_t ring = 0; ring < rings_; ++ring) {
    double sum = 0;
    for (std::size_t layer = 0; layer < layers_; ++layer) sum += celsius_[Index(ring, layer)];
    heat += sum / per_capacity_[ring];
  }
  return heat / heat_capacity_;
}

}  // namespace rindwatch::sensors::simulated
