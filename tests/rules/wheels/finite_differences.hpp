// Another way to the same answer: a wheel cut into rings and layers, stepped implicitly with a general library for
// linear algebra (Eigen). It shares no formula with the rules but the heat equation.
#pragma once

#include <memory>

#include "rules/wheels/conduction.hpp"

namespace rindwatch::rules {

class FiniteDifferences {
 public:
  FiniteDifferences(const WheelBody& body, const CheeseMatter& matter, double film, double celsius,
                    double step_seconds);
  ~FiniteDifferences();
  // One step, at the end of which the air has this temperature.
  void Step(double air);
  double Core() const;  // by the parabola through the two innermost rings
  double Mean() const;

 private:
  struct Body;
  std::unique_ptr<Body> body_;
};

}  // namespace rindwatch::rules
