// A wheel in still air: it stores heat, breathes a little of its own, gives off water through its rind, and gets wet
// where its skin is colder than the dew point. A value; stepped by the fridge.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "sensors/simulated/cylinder.hpp"
#include "sensors/simulated/moist_air.hpp"

namespace rindwatch::sensors::simulated {

struct RindSpec {
  double water_activity = 0.96;  // of the rind's surface (a young mould rind 0.94 to 0.97, J. Dairy Sci., 2013)
  double free_share = 0.6;       // of the evaporation of a bare wet face: what the rind lets through
  double respiration = 0.7;      // W per m2 of rind: 130 to 290 mmol CO2 a day (Agroscope) at 470 kJ/mol
};

struct WheelSpec {
  std::string name;
  WheelShape shape;
  WheelMatter matter;
  RindSpec rind;
};

// How the air reaches a skin, W/(m2 K).
struct StillAir {
  double convective = 2.8;       // carries vapour too
  double radiative = 2.4;        // to neighbours and walls, taken as being at the temperature of the air
  double underside_share = 0.5;  // of both, through a mat or a board
};

class Wheel {
 public:
  Wheel(const WheelSpec& spec, double celsius);

  const WheelSpec& Spec() const { return spec_; }
  double Core() const { return body_.Core(); }
  double Mean() const { return body_.Mean(); }
  double Surface() const;                         // mean over the skin at the last Meet
  double Water() const { return mass_ + film_; }  // kg, what evaporation takes from
  double Grams() const { return (mass_ + film_) * 1000; }
  double Film() const { return film_; }                                  // kg of dew on the rind
  double Energy() const { return body_.HeatCapacity() * body_.Mean(); }  // J above 0 °C

  // What the skin does to the air while its temperatures are held: heat W = heat - heat_slope * T, vapour kg/s =
  // vapour - vapour_slope * density.
  struct Offer {
    double heat = 0, heat_slope = 0, vapour = 0, vapour_slope = 0;
    void Add(const Offer& other);
  };
  // Begins an interval: finds the skin's temperatures in this air and says what the wheel will do until Absorb.
  Offer Meet(const AirNode& air, const StillAir& still);
  // Ends the interval, of which the air's means are given; returns the respiration heat in J.
  double Absorb(double mean_celsius, double mean_density, double seconds);

 private:
  // What all patches of a face share over an interval.
  struct Skin {
    double film = 0;      // W/(m2 K)
    double transfer = 0;  // m/s, of vapour through air film and rind
    double density = 0;   // kg/m3 of vapour in balance with the face
    double area = 0;      // m2

    // kg/(s m2) out of the wheel.
    double Evaporation(double air_density) const { return transfer * (density - air_density); }
  };
  static constexpr std::size_t kFaces = 3;
  Skin& SkinOf(Face face) { return faces_[static_cast<std::size_t>(face)]; }
  void SetSkin(Face face, const StillAir& still);

  WheelSpec spec_;
  Cylinder body_;
  double mass_;       // kg
  double film_ = 0;   // kg
  bool wet_ = false;  // gives off and takes up like free water
  std::array<Skin, kFaces> faces_;
  std::array<double, kFaces> face_celsius_;  // means at the last Meet
  std::vector<double> skin_;                 // °C, a patch each
  std::vector<double> inflow_;               // W, a patch each
};

}  // namespace rindwatch::sensors::simulated
