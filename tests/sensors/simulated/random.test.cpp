#include "sensors/simulated/random.hpp"

#include <cmath>

#include "tests/catch.hpp"

using rindwatch::sensors::simulated::Random;

TEST_CASE("chance of one seed and stream is the same draw by draw, and a copy repeats it") {
  Random one{7, 1};
  Random same{7, 1};
  Random copy = one;
  for (int i = 0; i < 100; ++i) {
    const double drawn = one.Uniform();
    CHECK(drawn == same.Uniform());
    CHECK(drawn == copy.Uniform());
  }
}

TEST_CASE("another seed or another stream draws otherwise") {
  Random one{7, 1};
  CHECK(Random{7, 2}.Uniform() != Random{7, 1}.Uniform());
  CHECK(Random{8, 1}.Uniform() != one.Uniform());
}

TEST_CASE("uniform draws stay in [0, 1) and fill it evenly") {
  Random random{1, 1};
  double sum = 0, low = 1, high = 0;
  for (int i = 0; i < 100000; ++i) {
    const double drawn = random.Uniform();
    low = std::min(low, drawn);
    high = std::max(high, drawn);
    sum += drawn;
  }
  CHECK(low >= 0);
  CHECK(high < 1);
  CHECK(sum / 100000 == Approx(0.5).margin(0.005));
}

TEST_CASE("normal draws have mean 0, deviation 1 and no tail beyond 6") {
  Random random{1, 2};
  double sum = 0, squares = 0, furthest = 0;
  for (int i = 0; i < 100000; ++i) {
    const double drawn = random.Normal();
    sum += drawn;
    squares += drawn * drawn;
    furthest = std::max(furthest, std::abs(drawn));
  }
  CHECK(sum / 100000 == Approx(0).margin(0.015));
  CHECK(squares / 100000 == Approx(1).margin(0.02));
  CHECK(furthest <= 6);
}
