// Heat inside a wheel: a cylinder lying on its face, cut into rings and layers of equal width (finite volumes), each
// of one temperature. Moves heat by conduction only; what comes through its skin is told from outside. A value.
//
// Far finer than what judges the wheels later, and of another method (they use a short series), so that a wrong
// estimate cannot hide behind an equally wrong truth.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace rindwatch::sensors::simulated {

struct WheelShape {
  double radius = 0;  // m
  double height = 0;  // m

  double Volume() const;
  double FaceArea() const;  // top or underside
  double SideArea() const;
};

// Start values: trade's middle for cheese; measured Cheddars span 0.354 to 0.481 W/(m K) and 2444 to 3096 J/(kg K)
// (Marschoun et al., Int. J. Food Properties 4(3), 2001).
struct WheelMatter {
  double conductivity = 0.36;   // W/(m K)
  double density = 1070;        // kg/m3
  double heat_capacity = 2900;  // J/(kg K)
};

enum class Face { kTop, kSide, kUnderside };

class Cylinder {
 public:
  // The cell's share of the skin.
  struct Patch {
    Face face;
    double area;         // m2
    double conductance;  // W/K from the skin to the middle of the cell
    std::size_t cell;
  };

  Cylinder(const WheelShape& shape, const WheelMatter& matter, double celsius, std::size_t rings = 8,
           std::size_t layers = 9);

  const std::vector<Patch>& Patches() const { return patches_; }
  double CellCelsius(std::size_t cell) const { return celsius_[cell]; }
  // Conducts for `seconds`, cutting them as stability asks. `inflow`: W into each patch, in the order of Patches().
  void Conduct(std::span<const double> inflow, double seconds);

  // On the axis, half way up; by the parabola through the two innermost rings.
  double Core() const;
  double Mean() const;
  double HeatCapacity() const { return heat_capacity_; }  // J/K

 private:
  std::size_t Index(std::size_t ring, std::size_t layer) const { return layer * rings_ + ring; }
  void BuildCells(const WheelShape& shape, const WheelMatter& matter);
  void BuildPatches(const WheelShape& shape, const WheelMatter& matter);
  void FindLongestStep();
  void ConductOnce(std::span<const double> inflow, double seconds);

  std::size_t rings_, layers_;
  std::vector<double> celsius_, flow_;    // a cell each
  std::vector<double> per_capacity_;      // K/J of a cell, a ring each: layers are alike
  std::vector<double> outward_, upward_;  // W/K to the next ring, to the next layer; a ring each
  std::vector<Patch> patches_;
  double heat_capacity_ = 0;
  double longest_step_ = 0;  // s
};

}  // namespace rindwatch::sensors::simulated
