// Heat conduction in a wheel: a short cylinder in air of one temperature. Pure functions, safe from any thread.
#pragma once

#include <vector>

#include "rules/units.hpp"

namespace rindwatch::rules {

struct WheelBody {
  double radius = 0;  // m
  double height = 0;  // m

  double Volume() const;        // m3
  double Skin() const;          // m2, faces and side
  double VolumeToSkin() const;  // m
};

// Start values: the trade's middle for cheese. Measured Cheddars span 0.354 to 0.481 W/(m K) and 2444 to 3096 J/(kg K)
// (Marschoun, Muthukumarappan, Gunasekaran, Int. J. Food Properties 4(3), 2001).
struct CheeseMatter {
  double conductivity = 0.36;   // W/(m K)
  double density = 1070;        // kg/m3
  double heat_capacity = 2900;  // J/(kg K)
};

// The body of a wheel of which only the weight is known, as usual wheels of that weight are shaped: 250 g are 11 by
// 3.2 cm, 2 kg 20 by 7, 8 kg 30 by 11, 25 kg 36 by 26 (common practice, no source).
WheelBody UsualBody(Grams weight, const CheeseMatter& matter = {});

// One term of a series: a share of the first difference to the air that fades at a rate. The share depends on where one
// looks.
struct ConductionTerm {
  double rate = 0;                      // 1/s
  double core = 0, mean = 0, skin = 0;  // shares: on the axis half way up, over the volume, over the whole skin
};

// Roots and shares of the infinite plane wall of half thickness 1 and of the infinite cylinder of radius 1, for a Biot
// number above 0: the first `count`, ascending. `rate` holds the square of the root. Textbook series: Incropera and
// DeWitt, Fundamentals of Heat and Mass Transfer, equations 5.42 and 5.50, with the roots of zeta tan zeta = Bi and
// zeta J1(zeta) = Bi J0(zeta) found by bisection.
std::vector<ConductionTerm> PlaneWallTerms(double biot, int count);
std::vector<ConductionTerm> CylinderTerms(double biot, int count);

// The wheel as the product of both, `each_way` terms of each, slowest first. `film`: W/(m2 K) on all faces.
std::vector<ConductionTerm> WheelTerms(const WheelBody& body, const CheeseMatter& matter, double film, int each_way);

// The share of a sudden difference to the air that is left after `seconds`.
struct ShareLeft {
  double core = 0, mean = 0, skin = 0;
};
ShareLeft LeftAfter(const std::vector<ConductionTerm>& terms, double seconds);

// Seconds in which the slowest term closes 63 % of a difference, without a series: (rho c / h)(V/A)(1 + 0.85 Bi) with
// Bi = h (V/A) / k. Within 5 % of the series from 250 g to 35 kg at 5 W/(m2 K).
double SlowestSeconds(const WheelBody& body, const CheeseMatter& matter, double film);

}  // namespace rindwatch::rules
