#include "daemon/api/wheel_air.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::Instant;

json::object Part(const json::object& object, const char* name) { return object.at(name).as_object(); }
json::array List(const json::object& object, const char* name) { return object.at(name).as_array(); }
std::int64_t Whole(const json::object& object, const char* name) { return object.at(name).to_number<std::int64_t>(); }
double Number(const json::object& object, const char* name) { return object.at(name).to_number<double>(); }

// A fridge at 12 °C with a probe and a pressed wheel, which wants about that.
struct OneWheel {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};
  int said = 0;

  OneWheel() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", InTheBox(PressedWheels(1, InCave(1), 12), 9));
  }
  void Read(double temperature, rules::Millis span) {
    const Instant end = house.Now() + span;
    while (house.Now() < end) {
      house.StepTo(house.Now() + 5min);
      ++said;  // a value that never moves is a probe that is stuck
      house.Reads(temperature + 0.05 * (said % 3), 91 + said % 3);
    }
  }
  json::object Page() { return house.See("/api/wheels/1"); }
};

std::vector<Bucket> Hours(Instant from, const std::vector<double>& values) {
  std::vector<Bucket> hours;
  for (const double value : values) {
    hours.push_back({from, 12, value, value, value});
    from += 1h;
  }
  return hours;
}

TEST_CASE("a wheel whose band changes while its air does not has air out of its band since then, and not before") {
  OneWheel one;
  one.Read(12, 8h);
  CHECK_FALSE(one.Page().contains("outside"));
  CHECK(List(one.Page(), "bands").size() >= 1);
  const Instant wrapped = one.house.Now();
  one.house.Do("band", {{"wheels", Ids({1})}, {"temperature", {{"low", 2}, {"high", 6}}}});
  one.Read(12, 2h);
  CHECK_FALSE(one.Page().contains("outside"));
  one.Read(12, 4h);
  const json::object outside = Part(one.Page(), "outside");
  CHECK(Whole(outside, "since") == ToMillis(wrapped));
  CHECK(Whole(outside, "side") == 1);
  CHECK(Number(outside, "mean") == Approx(12.05).margin(0.1));
  CHECK(Number(Part(outside, "band"), "high") == Approx(6));
  const json::array bands = List(one.Page(), "bands");
  REQUIRE(bands.size() >= 2);
  const json::object before = bands[bands.size() - 2].as_object(), last = bands.back().as_object();
  CHECK(Number(Part(before, "temperature"), "high") > 12);
  CHECK(Number(Part(last, "temperature"), "high") == Approx(6));
  CHECK(Whole(last, "from") == ToMillis(wrapped));
  SECTION("cold air ends it") {
    one.Read(4, 2h);
    CHECK_FALSE(one.Page().contains("outside"));
  }
  SECTION("what is silent is not said to be outside") {
    one.house.StepTo(one.house.Now() + 5h);
    CHECK_FALSE(one.Page().contains("outside"));
    REQUIRE(List(one.Page(), "unknown").size() == 1);
    CHECK(Whole(List(one.Page(), "unknown").front().as_object(), "to") == ToMillis(one.house.Now()));
  }
}

TEST_CASE("what a stuck probe said is no air that the wheel had") {
  OneWheel one;
  one.Read(12, 4h);
  const std::int64_t stood = ToMillis(one.house.Now());
  for (int i = 0; i < 10 * 12; ++i) {
    one.house.StepTo(one.house.Now() + 5min);
    one.house.Reads(13.3, 92);
  }
  one.Read(12, 4h);
  const json::array unknown = List(one.Page(), "unknown");
  REQUIRE(unknown.size() == 1);
  CHECK(std::abs(Whole(unknown.front().as_object(), "from") - stood) <= 3'600'000);
  CHECK(Whole(unknown.front().as_object(), "to") - stood >= 9 * 3'600'000);
}

TEST_CASE("it is out since the last hour that lay inside, but not since before the band began") {
  const BandFrom band{kThursday, rules::Figure{10, 14, {}}};
  const auto since = [&](int side, const std::vector<double>& values) {
    return BeyondSince(band, side, Hours(kThursday - 2h, values));
  };
  CHECK(since(1, {15, 15, 12, 15, 16}) == kThursday + 1h);
  CHECK(since(1, {15, 15, 15, 16}) == kThursday);
  CHECK(since(-1, {15, 15, 15, 9}) == kThursday + 1h);
  CHECK(since(1, {15, 15, 15, 13}) == std::nullopt);
  CHECK(since(1, {}) == std::nullopt);
}

}  // namespace
}  // namespace rindwatch
