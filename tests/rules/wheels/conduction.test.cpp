// Against textbook tables, series of another library and worked examples: tests/reference/transient_conduction.csv.
#include "rules/wheels/conduction.hpp"

#include <cmath>
#include <cstdio>

#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"

namespace rindwatch::rules {
namespace {

struct Cooling {
  WheelBody body;
  CheeseMatter matter;
  double film = 0, begins = 0, air = 0, hours = 0, core = 0, mean = 0;
};

std::vector<Cooling> Coolings() {
  std::vector<Cooling> coolings;
  for (const Row& row : ReadTable("transient_conduction.csv")) {
    Cooling c;
    if (row.at("case").find("wheel cooling oracle") == std::string::npos) continue;
    REQUIRE(std::sscanf(row.at("inputs").c_str(),
                        "R=%lf m, H=%lf m, k=%lf W/mK, rho=%lf kg/m3, cp=%lf J/kgK, h=%lf W/m2K all faces, Ti=%lf C, "
                        "Tair=%lf C, t=%lf h",
                        &c.body.radius, &c.body.height, &c.matter.conductivity, &c.matter.density,
                        &c.matter.heat_capacity, &c.film, &c.begins, &c.air, &c.hours) == 9);
    REQUIRE(std::sscanf(row.at("recomputed").c_str(), "centre=%lf C; volume mean=%lf C", &c.core, &c.mean) == 2);
    coolings.push_back(c);
  }
  return coolings;
}

// Incropera and DeWitt, table 5.1, and scipy 1.10.1 (brentq) on the same equations.
void HoldAgainstTable(const std::string& shape, std::vector<ConductionTerm> (*terms_of)(double, int)) {
  int rows = 0;
  for (const Row& row : ReadTable("transient_conduction.csv")) {
    if (row.at("kind") != "eigenvalue" || row.at("case") != shape || row.at("Bi") == "inf") continue;
    INFO(shape << " at Bi " << row.at("Bi"));
    const ConductionTerm first = terms_of(NumberIn(row, "Bi"), 1).front();
    CHECK(std::sqrt(first.rate) == Approx(NumberIn(row, "zeta1_scipy")).margin(1e-5));
    CHECK(first.core == Approx(NumberIn(row, "C1_scipy")).margin(1e-5));
    ++rows;
    // The transcription of the printed table has 0.7456 at 0.3 for 0.7465.
    if (row.at("zeta1_published").empty() || (shape == "cylinder" && row.at("Bi") == "0.3")) continue;
    CHECK(std::sqrt(first.rate) == Approx(NumberIn(row, "zeta1_published")).margin(2e-4));
    CHECK(first.core == Approx(NumberIn(row, "C1_published")).margin(2e-4));
  }
  CHECK(rows > 30);
}

}  // namespace

TEST_CASE("the first root and coefficient of a plane wall are those of the textbook") {
  HoldAgainstTable("plane_wall", PlaneWallTerms);
}

TEST_CASE("the first root and coefficient of a cylinder are those of the textbook") {
  HoldAgainstTable("cylinder", CylinderTerms);
}

TEST_CASE("a wheel's core and mean follow the 60-term series of another library within 0.01 K") {
  const auto coolings = Coolings();
  REQUIRE(coolings.size() == 21);
  for (const Cooling& c : coolings) {
    INFO(c.core << " after " << c.hours << " h");
    const auto terms = WheelTerms(c.body, c.matter, c.film, 40);
    const ShareLeft left = LeftAfter(terms, c.hours * 3600);
    CHECK(c.air + (c.begins - c.air) * left.core == Approx(c.core).margin(0.01));
    CHECK(c.air + (c.begins - c.air) * left.mean == Approx(c.mean).margin(0.01));
  }
}

// pychemengg user guide, example 3: a log of 10 cm, k 0.17, 1.28e-7 m2/s, 13.6 W/(m2 K), from 15 to 550 degrees, its
// surface at 420 after 2966 s by ten terms; one term alone says 2771 s.
TEST_CASE("the surface of a wooden log takes fire when the worked example says") {
  const auto surface_after = [](double seconds, int terms) {
    double left = 0;
    for (const ConductionTerm& term : CylinderTerms(13.6 * 0.05 / 0.17, terms)) {
      left += term.skin * std::exp(-term.rate * 1.28e-7 * seconds / (0.05 * 0.05));
    }
    return 550 - (550 - 15) * left;
  };
  CHECK(surface_after(2966, 10) == Approx(420).margin(0.1));
  CHECK(surface_after(2771, 1) == Approx(420).margin(0.1));
}

TEST_CASE("the shares of all terms add up to the whole before anything has faded") {
  const ShareLeft left = LeftAfter(WheelTerms({0.1, 0.07}, {}, 5, 60), 0);
  CHECK(left.core == Approx(1).margin(0.01));
  CHECK(left.mean == Approx(1).margin(0.001));
  CHECK(left.skin == Approx(1).margin(0.03));
}

TEST_CASE("the short formula for the slowest term stays within 5 % of the series from 250 g to 35 kg") {
  for (const double grams : {250.0, 500.0, 1000.0, 2000.0, 5000.0, 8000.0, 14000.0, 25000.0, 35000.0}) {
    INFO(grams << " g");
    const WheelBody body = UsualBody(Grams{grams});
    CHECK(body.Volume() * 1070 * 1000 == Approx(grams));
    const double series = 1 / WheelTerms(body, {}, 5, 4).front().rate;
    CHECK(SlowestSeconds(body, {}, 5) == Approx(series).epsilon(0.05));
  }
  // A low, wide alpine wheel: 35 kg, 60 by 11 cm.
  const WheelBody alpine{0.30, 0.11};
  CHECK(SlowestSeconds(alpine, {}, 5) == Approx(1 / WheelTerms(alpine, {}, 5, 4).front().rate).epsilon(0.05));
}

TEST_CASE("the usual wheel of a weight has the usual measures") {
  CHECK(2 * UsualBody(Grams{250}).radius == Approx(0.110).epsilon(0.1));
  CHECK(2 * UsualBody(Grams{2000}).radius == Approx(0.20).epsilon(0.1));
  CHECK(2 * UsualBody(Grams{8000}).radius == Approx(0.30).epsilon(0.1));
  CHECK(2 * UsualBody(Grams{25000}).radius == Approx(0.36).epsilon(0.1));
}

}  // namespace rindwatch::rules
