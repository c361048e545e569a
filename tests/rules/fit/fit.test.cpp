#include "rules/fit/fit.hpp"

#include <algorithm>

#include "tests/catch.hpp"

using namespace rindwatch::rules;
using std::chrono::days;

namespace {

std::optional<Figure> Band(double low, double high) { return Figure{low, high, "invented"}; }

FitGuest Guest(const char* family, int hardiness, std::optional<Figure> temperature, std::optional<Figure> humidity) {
  FitGuest guest;
  guest.family = family;
  guest.hardiness = hardiness;
  guest.age = 20;
  guest.bands = {std::move(temperature), std::move(humidity)};
  return guest;
}

const FitGuest kBloomy = Guest("bloomy", 0, Band(8.5, 15.5), Band(85, 100));
const FitGuest kPressed = Guest("pressed", 2, Band(10.5, 14.5), Band(80, 90));
const FitGuest kGrating = Guest("grating", 3, Band(12.5, 19.5), Band(73, 84));

FitGuest Blue() {
  FitGuest blue = Guest("blue", 1, Band(5.5, 13.5), Band(88, 100));
  blue.rind = RindClass::kBlue;
  return blue;
}

using enum FitAdvice;

}  // namespace

TEST_CASE("those that can share a band share it, and it costs nobody anything") {
  const Fit fit = FitFor(kBloomy, {kPressed}, false);
  REQUIRE(fit.shared.temperature);
  CHECK(fit.shared.temperature->low == 10.5);
  CHECK(fit.shared.temperature->high == 14.5);
  REQUIRE(fit.shared.humidity);
  CHECK(fit.shared.humidity->low == 85);
  CHECK(fit.shared.humidity->high == 90);
  CHECK(fit.costs.empty());
  CHECK(fit.advice.empty());
}

TEST_CASE("where nothing is left the most delicate has its band, and it is said whom that costs what") {
  FitGuest gratings = kGrating;
  gratings.count = 9;
  const Fit fit = FitFor(kBloomy, {kPressed, gratings}, false);
  CHECK_FALSE(fit.shared.humidity);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].family == "grating");
  CHECK(fit.costs[0].count == 9);
  CHECK(fit.costs[0].channel == FitChannel::kHumidity);
  CHECK(fit.costs[0].side == 1);  // too damp for it
  CHECK(fit.costs[0].by == 1);
  CHECK(fit.advice == std::vector{kOwnBox});
}

TEST_CASE("the newcomer pays where another is more delicate") {
  const Fit fit = FitFor(kGrating, {kBloomy}, false);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].newcomer);
}

TEST_CASE("others quarrel where the most delicate quarrels with nobody, the less delicate of two pays") {
  const FitGuest young = Guest("young", 0, Band(8, 16), std::nullopt);
  const FitGuest wrapped = Guest("wrapped", 1, Band(2.5, 11.5), std::nullopt);
  const Fit fit = FitFor(kGrating, {young, wrapped}, false);
  CHECK_FALSE(fit.shared.temperature);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].family == "grating");
  CHECK(fit.costs[0].newcomer);
  CHECK(fit.costs[0].side == -1);
  CHECK(fit.costs[0].by == 1);
  CHECK(fit.advice == std::vector{kOtherCave});
}

TEST_CASE("where no band is left for all, somebody pays") {
  unsigned state = 7;
  const auto below = [&state](unsigned n) { return (state = state * 1664525u + 1013904223u) / 65536u % n; };
  for (int round = 0; round < 500; ++round) {
    std::vector<FitGuest> guests;
    for (unsigned i = 2 + below(4); i > 0; --i) {
      const double low = below(12);
      guests.push_back(Guest(i % 2 ? "one" : "other", static_cast<int>(below(4)), Band(low, low + 1 + below(6)), {}));
    }
    const FitGuest newcomer = guests.back();
    guests.pop_back();
    const Fit fit = FitFor(newcomer, guests, false);
    INFO("round " << round);
    CHECK(fit.costs.empty() == fit.shared.temperature.has_value());
  }
}

TEST_CASE("a box cancels a quarrel over humidity, never one over temperature") {
  FitGuest boxed = kBloomy;
  boxed.same_air = false;
  CHECK(FitFor(kGrating, {boxed}, true).costs.empty());
  FitGuest held = Guest("held", 0, Band(0.5, 6.5), std::nullopt);
  held.same_air = false;
  const Fit fit = FitFor(kPressed, {held}, true);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].channel == FitChannel::kTemperature);
  CHECK(fit.costs[0].side == -1);  // too cold for it
  CHECK(fit.costs[0].by == 4);
  CHECK(fit.advice == std::vector{kOtherCave});
}

TEST_CASE("blue proposes its own shut box and the last place in the round; in a box of blues only the last place") {
  CHECK(FitFor(Blue(), {kBloomy}, false).advice == std::vector{kBlueShutBox, kBlueLast});
  CHECK(FitFor(Blue(), {}, false).advice == std::vector{kBlueShutBox, kBlueLast});
  CHECK(FitFor(Blue(), {Blue()}, true).advice == std::vector{kBlueLast});
  CHECK(FitFor(Blue(), {kBloomy}, true).advice == std::vector{kBlueShutBox, kBlueLast});
  CHECK(FitFor(kBloomy, {Blue()}, false).advice == std::vector{kAwayFromBlue});
}

TEST_CASE("nobody there, or nobody who asks for anything, costs nothing") {
  CHECK(FitFor(kPressed, {}, false).costs.empty());
  const FitGuest drying = Guest("drying", 0, std::nullopt, std::nullopt);
  const Fit fit = FitFor(drying, {kGrating}, false);
  CHECK(fit.costs.empty());
  CHECK(fit.shared.temperature->low == 12.5);
}

TEST_CASE("one family at two stages is named once, with all its wheels and the worse of its costs") {
  FitGuest young = kGrating, old = Guest("grating", 3, Band(10.5, 19.5), Band(70, 80));
  young.count = 4;
  old.count = 6;
  const Fit fit = FitFor(kBloomy, {young, old}, false);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].count == 10);
  CHECK(fit.costs[0].by == 5);
}

TEST_CASE("the bands of a day are those of the stage that the plan usually has then, else of the next that has some") {
  const auto plan = PlanFromLibrary("pressed-semi-hard");
  REQUIRE(plan);
  const Date made = MakeDate(2026, 3, 2);
  for (const int day : {0, 1, 3, 30, 900}) {
    const Bands bands = UsualBandsOn(*plan, made, made + days{day});
    REQUIRE(bands.temperature);
    CHECK(bands.temperature->low >= 8);
  }
}

TEST_CASE("the states of a plan's usual way ascend, from the day of the make's first stage on") {
  for (const Plan& plan : PlanLibrary()) {
    const Date made = MakeDate(2026, 3, 2);
    const auto states = UsualStatesOf(plan, made);
    INFO(plan.id);
    REQUIRE_FALSE(states.empty());
    CHECK(states.front().from >= made);
    CHECK(std::ranges::is_sorted(states, {}, &StateFrom::from));
  }
}

TEST_CASE("a cost says in which caves they lie whom it costs something, each once") {
  FitGuest one = kGrating, other = kGrating, third = kGrating;
  one.cave = third.cave = 3;
  other.cave = 5;
  const Fit fit = FitFor(kBloomy, {kPressed, one, other, third}, false);
  REQUIRE(fit.costs.size() == 1);
  CHECK(fit.costs[0].count == 3);
  CHECK(fit.costs[0].caves == std::vector<CaveId>{3, 5});
  FitGuest grating = kGrating;
  const Fit mine = FitFor(grating, {kBloomy}, false);
  REQUIRE(mine.costs.size() == 1);
  CHECK(mine.costs[0].newcomer);
  CHECK(mine.costs[0].caves.empty());
}

TEST_CASE("what will not suit once a later stage has begun is told with its first day, and only once") {
  const Date today = MakeDate(2026, 3, 2);
  FitGuest newcomer = kPressed;
  FitGuest bloomy = kBloomy;
  bloomy.cave = 3;
  bloomy.coming = {{today + days{10}, {Band(2.5, 9), std::nullopt}}, {today + days{20}, {Band(2.5, 9), std::nullopt}}};
  REQUIRE(FitFor(newcomer, {bloomy}, false).costs.empty());
  const auto later = FitToCome(newcomer, {bloomy});
  REQUIRE(later.size() == 1);
  CHECK(later[0].from == today + days{10});
  CHECK(later[0].cost.newcomer);  // the bloomy is the more delicate one
  CHECK(later[0].cost.side == -1);
  CHECK(later[0].cost.by == 1.5);
}

TEST_CASE("what others will have to settle among themselves is not laid to the newcomer") {
  const Date today = MakeDate(2026, 3, 2);
  FitGuest newcomer = Guest("asks for nothing", 3, std::nullopt, std::nullopt);
  FitGuest bloomy = kBloomy;
  bloomy.coming = {{today + days{10}, {Band(2.5, 9), std::nullopt}}};
  CHECK(FitToCome(newcomer, {bloomy, kPressed}).empty());
}

TEST_CASE("what does not suit now is not told again as to come") {
  const Date today = MakeDate(2026, 3, 2);
  FitGuest grating = kGrating;
  grating.coming = {{today + days{10}, kGrating.bands}};
  CHECK_FALSE(FitFor(kBloomy, {grating}, false).costs.empty());
  CHECK(FitToCome(kBloomy, {grating}).empty());
}

TEST_CASE("the stages of a wheel that is brought elsewhere concern nobody here any more") {
  const auto tomme = PlanFromLibrary("natural-tomme");
  const Date made = MakeDate(2026, 3, 2);
  // From the counter it goes into the cave; in the cave it stays until the cold store.
  CHECK(UsualBandsAfter(*tomme, made, made + days{1}, true).empty());
  const auto in_cave = UsualBandsAfter(*tomme, made, made + days{10}, false);
  REQUIRE_FALSE(in_cave.empty());
  for (const BandsFrom& coming : in_cave) {
    REQUIRE(coming.bands.temperature);
    CHECK(coming.bands.temperature->high > 11.5);  // never the cold store's
  }
}
