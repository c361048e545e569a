#include "rules/round/bring.hpp"

#include "tests/catch.hpp"
#include "tests/rules/round/scene.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

const auto kYoung = RoundPlan(RindClass::kNaturalAndPressed, {WithRecipe(Every(1, {kWash}, {kTurn}), 3)});
const auto kOrange = RoundPlan(RindClass::kWashed, {WithRecipe(Every(1, {kWash}, {kTurn}), 3)}, 0);
const auto kWhite = RoundPlan(RindClass::kFreshAndWhite, {Every(1, {kTurn}, {kPat})}, 0);

Bring Of(std::vector<RoundGroup> groups, int day = 0) { return BringFor(MakeRound(Day(day), {}, std::move(groups))); }

TEST_CASE("nothing is brought for an empty round") {
  const Bring bring = Of({});
  CHECK(bring.washes.empty());
  CHECK(bring.cloths == 0);
  CHECK(bring.tools.empty());
}

TEST_CASE("each age group has its own wash, enough for its wheels and at least 100 g, and a cloth for each") {
  std::vector<WheelId> forty;
  for (WheelId id = 1; id <= 40; ++id) forty.push_back(id);
  const Bring bring =
      Of({GroupOf(1, "A1", LifeOn(0, kYoung, -5), forty), GroupOf(1, "A2", LifeOn(0, kYoung, -40), {41}),
          GroupOf(2, "", LifeOn(0, kOrange, -17), {42, 43}), GroupOf(2, "", LifeOn(0, kWhite, -9), {44})});
  REQUIRE(bring.washes.size() == 3);
  CHECK(bring.washes[0].wheels == 40);
  // 25 mL a wheel of 2 kg: a litre of 3 % brine, at 1.0195 g/mL 1020 g, with 31 g of salt.
  CHECK(bring.washes[0].mixing.salt.value == 31);
  CHECK(bring.washes[1].mixing.total.value == 100);
  CHECK(bring.washes[1].mixing.salt.value == 3);
  CHECK(bring.washes[2].wheels == 2);
  // Of two strengths that look alike it must be plain which is whose.
  CHECK(bring.washes[0].places.size() == 1);
  CHECK(bring.washes[0].places.front().shelf == "A1");
  CHECK(bring.washes[1].places.front().shelf == "A2");
  CHECK(bring.washes[2].places.front().cave == 2);
  CHECK(bring.cloths == 4);
}

TEST_CASE("tools follow the cares that are left; marked wheels have their own brush, and mites ask for a mask") {
  const auto dry = RoundPlan(RindClass::kNaturalAndPressed, {Every(7, {kBrush}), Every(9, {kOil})});
  const auto wet = RoundPlan(RindClass::kNaturalAndPressed, {WithRecipe(Every(7, {kBrush}), 3)});
  auto mites = GroupOf(1, "A1", LifeOn(0, dry, -90), {1});
  mites.mark = FaultKind::kMiteDust;
  const Bring bring = Of({mites, GroupOf(1, "A2", LifeOn(0, wet, -90), {2})});
  CHECK(bring.tools == std::vector{Tool::kSoftBrush, Tool::kOwnBrush, Tool::kOil});
  CHECK(bring.mask);
  CHECK_FALSE(Of({GroupOf(1, "A2", LifeOn(0, wet, -90), {2})}).mask);
}

}  // namespace
}  // namespace rindwatch::rules
