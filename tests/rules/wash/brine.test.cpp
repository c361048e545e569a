// Salt and water against published tables; see tests/reference/README.md for the sources and the tolerance.
#include "rules/wash/brine.hpp"

#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"

using namespace rindwatch::rules;

namespace {

constexpr double kTolerance = 0.3;  // kg/m3; the tables print tenths

}  // namespace

TEST_CASE("the density of brine is that of the published table, at 15 and 20 degrees") {
  int rows = 0;
  for (const Row& row : ReadTable("brine.csv")) {
    if (row.at("kind") != "density") continue;
    INFO(row.at("pct_ww") << " % at " << row.at("T_C"));
    const auto density = DensityOfBrine({NumberIn(row, "pct_ww")}, Celsius{NumberIn(row, "T_C")});
    CHECK(density.value * 1000 == Approx(NumberIn(row, "value")).margin(1e-6));
    ++rows;
  }
  CHECK(rows == 28);
}

// Between the rows, against another table of the handbook, printed by molality.
TEST_CASE("between the rows the density is that of the handbook's volumetric table") {
  int rows = 0;
  for (const Row& row : ReadTable("brine.csv")) {
    if (row.at("kind") != "density_molal" || row.at("T_C") != "20") continue;
    INFO(row.at("pct_ww"));
    CHECK(DensityOfBrine({NumberIn(row, "pct_ww")}).value * 1000 == Approx(NumberIn(row, "value")).margin(kTolerance));
    ++rows;
  }
  CHECK(rows == 6);
}

// Another handbook's table of antifreeze brines, relative to water, printed in thousandths. It runs below the first
// table by up to 0.25 %: sources differ by that much.
TEST_CASE("the specific gravity at 15 degrees is near that of another handbook") {
  const double water = DensityOfBrine({0}, Celsius{15}).value;
  int rows = 0;
  for (const Row& row : ReadTable("brine.csv")) {
    if (row.at("kind") != "specific_gravity_15C") continue;
    INFO(row.at("pct_ww"));
    const double ours = DensityOfBrine({NumberIn(row, "pct_ww")}, Celsius{15}).value / water;
    CHECK(ours == Approx(NumberIn(row, "value")).margin(0.0028));
    ++rows;
  }
  CHECK(rows >= 15);
}

TEST_CASE("more salt is heavier, warmer is lighter, and beyond the table nothing runs away") {
  for (double percent = 0; percent < 25.9; percent += 0.1) {
    CHECK(DensityOfBrine({percent}) < DensityOfBrine({percent + 0.1}));
    CHECK(DensityOfBrine({percent}, Celsius{20}) < DensityOfBrine({percent}, Celsius{15}));
  }
  CHECK(DensityOfBrine({40}) == DensityOfBrine({26}));
  CHECK(DensityOfBrine({-1}) == DensityOfBrine({0}));
  CHECK(DensityOfBrine({3}, Celsius{60}) == DensityOfBrine({3}, Celsius{20}));
}

TEST_CASE("a volume and its mass are each other's") {
  for (const double percent : {0.0, 3.0, 5.5, 22.0}) {
    const auto density = DensityOfBrine({percent});
    CHECK(MassOf(VolumeOf(Grams{137}, density), density).value == Approx(137).epsilon(1e-12));
  }
}
