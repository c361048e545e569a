#include "rules/faults/faults.hpp"

#include <algorithm>
#include <string>

#include "tests/catch.hpp"

using namespace rindwatch::rules;
using std::chrono::days;

namespace {

constexpr RindClass kRinds[] = {RindClass::kFreshAndWhite, RindClass::kNaturalAndPressed, RindClass::kWashed,
                                RindClass::kBlue};

int FaultCount() { return static_cast<int>(kLastFaultKind) + 1; }
FaultKind Nth(int n) { return static_cast<FaultKind>(n); }

}  // namespace

TEST_CASE("every fault has a word of its own that leads back to it") {
  for (int n = 0; n < FaultCount(); ++n) CHECK(FaultKindFrom(ToText(Nth(n))) == Nth(n));
  CHECK(ToText(FaultKind::kMiteDust) == "mite dust");
  CHECK_FALSE(FaultKindFrom("mites"));
  CHECK_FALSE(FaultKindFrom(""));
}

TEST_CASE("for every fault, rind and age exactly one advice answers") {
  for (int n = 0; n < FaultCount(); ++n) {
    for (const RindClass rind : kRinds) {
      for (int age = 0; age <= 800; ++age) {
        const auto answers = std::ranges::count_if(FaultCatalogue(), [&](const FaultAdvice& advice) {
          return advice.fault == Nth(n) && std::ranges::count(advice.rinds, rind) > 0 && advice.from_age <= age &&
                 (!advice.to_age || age <= *advice.to_age);
        });
        if (answers != 1) FAIL_CHECK(ToText(Nth(n)) << ", " << ToText(rind) << ", day " << age << ": " << answers);
      }
      CHECK(AdviceFor(Nth(n), rind, 20).fault == Nth(n));
    }
  }
}

TEST_CASE("every advice names its source and words, and looks again soon") {
  for (const FaultAdvice& advice : FaultCatalogue()) {
    INFO(advice.words);
    CHECK_FALSE(advice.source.empty());
    CHECK(advice.words.starts_with(ToText(advice.fault)));
    CHECK(advice.look_again_days >= 1);
    CHECK(advice.look_again_days <= 7);
    CHECK(std::ranges::is_sorted(advice.then, {}, &FaultCare::in_days));
    for (const FaultCare& care : advice.then) CHECK(care.in_days >= 1);
  }
}

TEST_CASE("mite dust: masked, last of the round, brushed and oiled in a week, its neighbours looked at") {
  const Date today = MakeDate(2026, 11, 27);
  const FaultPlan plan = PlanFor(FaultKind::kMiteDust, RindClass::kNaturalAndPressed, 77, today);
  CHECK(plan.advice->mask);
  CHECK(plan.advice->apart);
  CHECK(plan.advice->neighbours);
  CHECK_FALSE(plan.advice->hold);
  CHECK(plan.look_again == MakeDate(2026, 11, 29));
  REQUIRE(plan.cares.size() == 2);
  CHECK(plan.cares[0].day == MakeDate(2026, 12, 4));
  CHECK(plan.cares[0].kind == CareKind::kBrush);
  CHECK(plan.cares[0].stands_for == CareKind::kBrush);
  CHECK(plan.cares[1].kind == CareKind::kOil);
  for (const RindClass rind : kRinds) {
    for (const int age : {1, 30, 90}) CHECK(AdviceFor(FaultKind::kMiteDust, rind, age).mask);
  }
}

TEST_CASE("a bulge is held whatever the rind, and its sisters are looked at; early and late blowing differ") {
  for (const RindClass rind : kRinds) {
    for (const int age : {0, 3, 4, 40}) {
      const FaultAdvice& advice = AdviceFor(FaultKind::kBulge, rind, age);
      CHECK(advice.hold);
      CHECK(advice.sisters);
      CHECK(advice.words == (age <= 3 ? "bulge.early" : "bulge.late"));
    }
  }
}

TEST_CASE("a slimy washed rind is not washed before its fourth day") {
  const Date today = MakeDate(2026, 3, 2);
  const FaultPlan plan = PlanFor(FaultKind::kSlime, RindClass::kWashed, 20, today);
  const auto wash = std::ranges::find(plan.cares, CareKind::kWash, &FaultPlanCare::kind);
  REQUIRE(wash != plan.cares.end());
  CHECK(wash->day == today + days{4});
  CHECK(wash->stands_for == CareKind::kWash);
}

TEST_CASE("blue on a blue is no reason to put it last, anywhere else it is") {
  CHECK_FALSE(AdviceFor(FaultKind::kBlueSpot, RindClass::kBlue, 30).apart);
  CHECK(AdviceFor(FaultKind::kBlueSpot, RindClass::kWashed, 30).apart);
  CHECK(AdviceFor(FaultKind::kBlueSpot, RindClass::kFreshAndWhite, 30).apart);
}

TEST_CASE("an age before the make counts as the day of the make") {
  CHECK(&AdviceFor(FaultKind::kCrack, RindClass::kWashed, -5) == &AdviceFor(FaultKind::kCrack, RindClass::kWashed, 0));
}
