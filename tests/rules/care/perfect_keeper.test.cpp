#include <chrono>
#include <cstdio>

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

TEST_CASE("time") {
  Wheel wheel{*PlanFromLibrary("pressed-semi-hard")};
  auto t0 = std::chrono::steady_clock::now();
  auto a = LookAhead(wheel.History(), wheel.Calendar(), wheel.At(0, 9), 740);
  auto t1 = std::chrono::steady_clock::now();
  printf("%zu %f ms\n", a.size(), std::chrono::duration<double, std::milli>(t1 - t0).count());
  for (auto& x : a) {
    printf("%d:", NumberOf(x.day));
    for (auto k : x.kinds) printf(" %s", std::string(ToText(k)).c_str());
    printf("; ");
  }
  CHECK(true);
}
