// Salt in water: how heavy the liquid is, so that grams and millilitres can be told from each other.
#pragma once

#include "rules/units.hpp"

namespace rindwatch::rules {

// Grams of salt in 100 g of the finished liquid.
struct MassPercent {
  double value = 0;
  auto operator<=>(const MassPercent&) const = default;
};

struct Millilitres {
  double value = 0;
  auto operator<=>(const Millilitres&) const = default;
};

struct GramsPerMillilitre {
  double value = 0;
  auto operator<=>(const GramsPerMillilitre&) const = default;
};

// More salt than this does not dissolve at 15.6 °C (definition of 100 degrees on the salometer scale: 26.395 %).
inline constexpr MassPercent kSaturatedBrine{26.395};
// What a wash has where it is mixed and used.
inline constexpr Celsius kKitchen{20};

// Of salt (sodium chloride) in water, 0 % to saturation, 15 to 20 °C; beyond these ends, as at the ends.
// Interpolated in the table of Poradnik fizykochemiczny (WNT, Warsaw 1974), whose figures at 20 °C are those of the
// CRC Handbook, "Concentrative Properties of Aqueous Solutions"; pure water is from memory (IAPWS-95).
GramsPerMillilitre DensityOfBrine(MassPercent salt, Celsius temperature = kKitchen);

Millilitres VolumeOf(Grams mass, GramsPerMillilitre density);
Grams MassOf(Millilitres volume, GramsPerMillilitre density);

}  // namespace rindwatch::rules
