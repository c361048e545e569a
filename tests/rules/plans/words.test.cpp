#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

TEST_CASE("every word of a plan reads back as what it was written for") {
  for (int i = 0; i <= static_cast<int>(kLastCareKind); ++i) {
    CHECK(CareKindFrom(ToText(static_cast<CareKind>(i))) == static_cast<CareKind>(i));
  }
  for (int i = 0; i <= static_cast<int>(kLastStartKind); ++i) {
    CHECK(StartKindFrom(ToText(static_cast<StartKind>(i))) == static_cast<StartKind>(i));
  }
  for (int i = 0; i <= static_cast<int>(RindClass::kBlue); ++i) {
    CHECK(RindClassFrom(ToText(static_cast<RindClass>(i))) == static_cast<RindClass>(i));
  }
  for (int i = 0; i <= static_cast<int>(WheelState::kHolding); ++i) {
    CHECK(WheelStateFrom(ToText(static_cast<WheelState>(i))) == static_cast<WheelState>(i));
  }
}

TEST_CASE("stored words keep their text") {
  CHECK(ToText(CareKind::kTurn) == "turn");
  CHECK(ToText(StartKind::kEnteredBox) == "entered box");
  CHECK(ToText(RindClass::kNaturalAndPressed) == "natural and pressed");
  CHECK(ToText(WheelState::kRindForming) == "rind forming");
}

TEST_CASE("a word that is none is nothing") {
  for (const char* text : {"", "Turn", "turn ", "rub down", "\xff"}) {
    CHECK(!CareKindFrom(text));
    CHECK(!StartKindFrom(text));
    CHECK(!RindClassFrom(text));
    CHECK(!WheelStateFrom(text));
  }
}
