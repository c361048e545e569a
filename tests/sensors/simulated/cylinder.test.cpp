#include "sensors/simulated/cylinder.hpp"

#include <cstdio>
#include <fstream>
#include <numeric>
#include <string>
#include <vector>

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;

namespace {

struct Oracle {
  std::string name;
  WheelShape shape;
  WheelMatter matter;
  double film = 0, begins = 0, air = 0, hours = 0;
  double centre = 0, mean = 0;
};

// The rows of tests/reference/transient_conduction.csv: product of plane-wall and cylinder series, 60 terms each,
// scipy 1.10.1. A finite-volume model is to come within 0.1 K.
std::vector<Oracle> ReadOracles() {
  std::ifstream file{std::string{RINDWATCH_SOURCE_DIR} + "/tests/reference/transient_conduction.csv"};
  std::vector<Oracle> oracles;
  for (std::string line; std::getline(file, line);) {
    Oracle o;
    const auto inputs = line.find("\"R=");
    const auto results = line.find("centre=");
    if (inputs == std::string::npos || results == std::string::npos) continue;
    const int read = std::sscanf(
        line.c_str() + inputs,
        "\"R=%lf m, H=%lf m, k=%lf W/mK, rho=%lf kg/m3, cp=%lf J/kgK, h=%lf W/m2K all faces, Ti=%lf C, Tair=%lf C, "
        "t=%lf h",
        &o.shape.radius, &o.shape.height, &o.matter.conductivity, &o.matter.density, &o.matter.heat_capacity, &o.film,
        &o.begins, &o.air, &o.hours);
    REQUIRE(read == 9);
    REQUIRE(std::sscanf(line.c_str() + results, "centre=%lf C; volume mean=%lf C", &o.centre, &o.mean) == 2);
    o.name = line.substr(line.find("wheel "), 40);
    oracles.push_back(o);
  }
  return oracles;
}

// Convection at every face, the skin in balance between film and half a cell.
std::vector<double> Inflow(const Cylinder& body, double film, double air) {
  std::vector<double> inflow;
  for (const Cylinder::Patch& patch : body.Patches()) {
    const double outside = film * patch.area;
    inflow.push_back((air - body.CellCelsius(patch.cell)) / (1 / outside + 1 / patch.conductance));
  }
  return inflow;
}

}  // namespace

TEST_CASE("a wheel cools as the series solution says, within 0.1 K at the core and in the mean") {
  const auto oracles = ReadOracles();
  REQUIRE(oracles.size() == 21);
  double worst = 0;
  for (const Oracle& o : oracles) {
    INFO(o.name << " after " << o.hours << " h");
    Cylinder body{o.shape, o.matter, o.begins};
    for (int i = 0; i < static_cast<int>(o.hours * 360); ++i) body.Conduct(Inflow(body, o.film, o.air), 10);
    CHECK(body.Core() == Approx(o.centre).margin(0.1));
    CHECK(body.Mean() == Approx(o.mean).margin(0.1));
    worst = std::max({worst, std::abs(body.Core() - o.centre), std::abs(body.Mean() - o.mean)});
  }
  // What the 8 by 9 cells reach, so that a coarser grid is noticed.
  CHECK(worst < 0.06);
}

TEST_CASE("a wheel holds exactly the heat that came through its skin") {
  Cylinder body{{0.0875, 0.058}, {}, 20};
  const double before = body.HeatCapacity() * body.Mean();
  double entered = 0;
  for (int i = 0; i < 2000; ++i) {
    const auto inflow = Inflow(body, 5, 12);
    entered += 10 * std::accumulate(inflow.begin(), inflow.end(), 0.0);
    body.Conduct(inflow, 10);
  }
  CHECK(body.HeatCapacity() * body.Mean() - before == Approx(entered).epsilon(1e-9));
}

TEST_CASE("without heat through the skin nothing changes, and the patches cover the whole skin") {
  const WheelShape shape{0.055, 0.025};
  Cylinder body{shape, {}, 13};
  body.Conduct(std::vector<double>(body.Patches().size(), 0.0), 3600);
  CHECK(body.Core() == Approx(13));
  double area = 0;
  for (const Cylinder::Patch& patch : body.Patches()) area += patch.area;
  CHECK(area == Approx(2 * shape.FaceArea() + shape.SideArea()));
}

TEST_CASE("a thin wheel and a long span stay stable") {
  Cylinder body{{0.03, 0.008}, {}, 25};
  for (int i = 0; i < 50; ++i) body.Conduct(Inflow(body, 5, 10), 60);
  CHECK(body.Core() > 10);
  CHECK(body.Core() < 25);
}

TEST_CASE("grids with one ring or an even number of layers have a core too") {
  CHECK(Cylinder({0.05, 0.03}, {}, 12, 1, 4).Core() == Approx(12));
  CHECK(Cylinder({0.05, 0.03}, {}, 12, 5, 2).Core() == Approx(12));
}
