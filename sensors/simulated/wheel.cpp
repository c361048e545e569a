#include "sensors/simulated/wheel.hpp"

#include <algorithm>
#include <cstddef>

namespace rindwatch::sensors::simulated {

void Wheel::Offer::Add(const Offer& other) {
  heat += other.heat;
  heat_slope += other.heat_slope;
  vapour += other.vapour;
  vapour_slope += other.vapour_slope;
}

Wheel::Wheel(const WheelSpec& spec, double celsius)
    : spec_(spec),
      body_(spec.shape, spec.matter, celsius),
      mass_(spec.matter.density * spec.shape.Volume()),
      skin_(body_.Patches().size(), celsius),
      inflow_(body_.Patches().size(), 0) {
  face_celsius_.fill(celsius);
  for (const Cylinder::Patch& patch : body_.Patches()) SkinOf(patch.face).area += patch.area;
}

double Wheel::Surface() const {
  double sum = 0, area = 0;
  for (std::size_t face = 0; face < kFaces; ++face) {
    sum += face_celsius_[face] * faces_[face].area;
    area += faces_[face].area;
  }
  return sum / area;
}

void Wheel::SetSkin(Face face, const StillAir& still) {
  Skin& skin = SkinOf(face);
  const double reach = face == Face::kUnderside ? still.underside_share : 1;
  skin.film = (still.convective + still.radiative) * reach;
  skin.transfer = still.convective / kLewisHeat * reach * (wet_ ? 1 : spec_.rind.free_share);
  skin.density = SaturationDensityOverWater(face_celsius_[static_cast<std::size_t>(face)]) *
                 (wet_ ? 1 : spec_.rind.water_activity);
}

Wheel::Offer Wheel::Meet(const AirNode& air, const StillAir& still) {
  const double density = air.VapourDensity();
  // Dew lies on the rind, or is about to: then it is free water that the air meets.
  const double coldest = *std::min_element(face_celsius_.begin(), face_celsius_.end());
  wet_ = film_ > 0 || density > SaturationDensityOverWater(coldest);
  Offer offer;
  for (const Face face : {Face::kTop, Face::kSide, Face::kUnderside}) {
    SetSkin(face, still);
    const Skin& skin = SkinOf(face);
    offer.vapour += skin.area * skin.transfer * skin.density;
    offer.vapour_slope += skin.area * skin.transfer;
  }
  // The skin's temperatures follow from the evaporation that the last ones gave: an interval late, which is less than
  // the skin itself takes.
  std::array<double, kFaces> sums{};
  const auto& patches = body_.Patches();
  for (std::size_t i = 0; i < patches.size(); ++i) {
    const Cylinder::Patch& patch = patches[i];
    const Skin& skin = SkinOf(patch.face);
    const double film = skin.film * patch.area;
    const double own = (spec_.rind.respiration - kEvaporationHeat * skin.Evaporation(density)) * patch.area;
    skin_[i] =
        (film * air.celsius + patch.conductance * body_.CellCelsius(patch.cell) + own) / (film + patch.conductance);
    offer.heat += film * skin_[i];
    offer.heat_slope += film;
    sums[static_cast<std::size_t>(patch.face)] += skin_[i] * patch.area;
  }
  for (std::size_t face = 0; face < kFaces; ++face) face_celsius_[face] = sums[face] / faces_[face].area;
  return offer;
}

double Wheel::Absorb(double mean_celsius, double mean_density, double seconds) {
  const auto& patches = body_.Patches();
  for (std::size_t i = 0; i < patches.size(); ++i) {
    const Skin& skin = SkinOf(patches[i].face);
    inflow_[i] = patches[i].area * (skin.film * (mean_celsius - skin_[i]) + spec_.rind.respiration -
                                    kEvaporationHeat * skin.Evaporation(mean_density));
  }
  body_.Conduct(inflow_, seconds);
  double evaporated = 0, area = 0;
  for (const Skin& skin : faces_) {
    evaporated += skin.Evaporation(mean_density) * skin.area * seconds;
    area += skin.area;
  }
  // Dew goes first; what it cannot give comes out of the wheel.
  const double from_film = wet_ ? std::min(evaporated, film_) : 0;
  film_ -= from_film;
  mass_ -= evaporated - from_film;
  return spec_.rind.respiration * area * seconds;
}

}  // namespace rindwatch::sensors::simulated
