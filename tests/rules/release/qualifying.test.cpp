#include "rules/release/qualifying.hpp"

#include <random>

#include "tests/catch.hpp"
#include "tests/rules/release/us_rule.hpp"

using namespace rindwatch::rules;
using std::chrono::days;
using std::chrono::minutes;

namespace {

// Made on 26 September 2026, as the others of the lot.
constexpr Date kMade = MakeDate(2026, 9, 26);

QualifyingRule SixtyDays(bool vouching = true) {
  QualifyingRule rule = testing::UsSixtyDays();
  rule.vouching = vouching;
  return rule;
}

// Recorded all day at 12 degrees, from the make to the day before `today`.
std::vector<DayOfAir> Recorded(Date today) {
  std::vector<DayOfAir> air;
  for (Date day = kMade; day < today; day += days{1}) air.push_back({day, Celsius{12}, minutes{5}});
  return air;
}

DayOfAir& On(std::vector<DayOfAir>& air, Date day) { return air.at(static_cast<std::size_t>((day - kMade).count())); }

Vouch VouchedFor(Date from, Date to) { return {"v", from, to, "TR", "door shut, no frost"}; }

DayProof ProofOn(const QualifyingAge& age, Date day) {
  return age.days.at(static_cast<std::size_t>((day - kMade).count())).is;
}

}  // namespace

TEST_CASE("the three sums stand apart, and the earliest day moves by what is short") {
  const Date today = MakeDate(2026, 11, 28);
  auto air = Recorded(today);
  for (const Date day : {MakeDate(2026, 10, 13), MakeDate(2026, 10, 14), MakeDate(2026, 10, 15)}) On(air, day).low = {};
  for (const Date day : {MakeDate(2026, 10, 26), MakeDate(2026, 10, 27)}) On(air, day).low = Celsius{0.9};
  for (int n = 5; n <= 8; ++n) On(air, MakeDate(2026, 11, static_cast<unsigned>(n))).longest_silence = minutes{240};
  const QualifyingAge age =
      QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {VouchedFor(MakeDate(2026, 10, 13), MakeDate(2026, 10, 15))});
  CHECK(age.proven == 54);
  CHECK(age.vouched == 3);
  CHECK(age.missing == 2);
  CHECK(age.unproven == 4);
  CHECK(age.Counted() == 57);
  CHECK(age.of == 60);
  CHECK(age.Short() == 3);
  CHECK_FALSE(age.Reached());
  CHECK(age.earliest == MakeDate(2026, 12, 1));
  CHECK(age.days.size() == 63);
  CHECK(ProofOn(age, MakeDate(2026, 10, 14)) == DayProof::kVouched);
  CHECK(ProofOn(age, MakeDate(2026, 10, 26)) == DayProof::kMissing);
  CHECK(ProofOn(age, MakeDate(2026, 11, 8)) == DayProof::kUnproven);
}

TEST_CASE("a rule of sixty days is full when sixty days are over, not on the sixtieth morning") {
  const Date full = kMade + days{60};
  const auto age = [](Date today) { return QualifyingAgeOf(SixtyDays(), kMade, today, Recorded(today), {}, {}); };
  CHECK_FALSE(age(full - days{1}).Reached());
  CHECK(age(full - days{1}).earliest == full);
  CHECK(age(full).Reached());
  CHECK(age(full).earliest == full);
  CHECK(age(full + days{30}).earliest == full);
}

TEST_CASE("the least mean of a day counts at the minimum and is missing below it: 35 degrees Fahrenheit are 5/3") {
  CHECK(testing::UsSixtyDays().min_temperature == Celsius{5.0 / 3.0});
  const Date today = kMade + days{2};
  auto air = Recorded(today);
  On(air, kMade).low = Celsius{5.0 / 3.0};
  On(air, kMade + days{1}).low = Celsius{1.666};
  const QualifyingAge age = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {});
  CHECK(ProofOn(age, kMade) == DayProof::kProven);
  CHECK(ProofOn(age, kMade + days{1}) == DayProof::kMissing);
}

TEST_CASE("a silence of up to 45 minutes proves a day, a longer one does not") {
  const Date today = kMade + days{2};
  auto air = Recorded(today);
  On(air, kMade).longest_silence = kLongestSilence;
  On(air, kMade + days{1}).longest_silence = kLongestSilence + Millis{1};
  const QualifyingAge age = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {});
  CHECK(age.proven == 1);
  CHECK(age.unproven == 1);
}

TEST_CASE("what was seen too cold is missing, however little of the day was recorded, and nobody can vouch for it") {
  const Date today = kMade + days{1};
  const std::vector<DayOfAir> air{{kMade, Celsius{-1}, minutes{1000}}};
  const QualifyingAge age = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {VouchedFor(kMade, kMade)});
  CHECK(age.missing == 1);
  CHECK(age.vouched == 0);
  CHECK(JudgeVouch(SixtyDays(), age, VouchedFor(kMade, kMade)) == VouchAnswer::kNothingToVouchFor);
}

TEST_CASE("an unproven day counts only when somebody vouches for it with name and reason, where the rule allows it") {
  const Date today = kMade + days{1};
  const auto vouched = [&](const QualifyingRule& rule, const Vouch& vouch) {
    return QualifyingAgeOf(rule, kMade, today, {}, {}, {vouch}).vouched;
  };
  CHECK(vouched(SixtyDays(), VouchedFor(kMade, kMade)) == 1);
  CHECK(vouched(SixtyDays(false), VouchedFor(kMade, kMade)) == 0);
  CHECK(vouched(SixtyDays(), {"v", kMade, kMade, "", "shut"}) == 0);
  CHECK(vouched(SixtyDays(), {"v", kMade, kMade, "TR", ""}) == 0);
  CHECK(vouched(SixtyDays(), VouchedFor(kMade + days{1}, kMade + days{9})) == 0);

  const QualifyingAge unproven = QualifyingAgeOf(SixtyDays(), kMade, today, {}, {}, {});
  CHECK(JudgeVouch(SixtyDays(), unproven, VouchedFor(kMade, kMade)) == VouchAnswer::kTaken);
  CHECK(JudgeVouch(SixtyDays(false), unproven, VouchedFor(kMade, kMade)) == VouchAnswer::kNotAllowed);
  CHECK(JudgeVouch(SixtyDays(), unproven, {"v", kMade, kMade, " ", "shut"}) == VouchAnswer::kNeedsName);
  CHECK(JudgeVouch(SixtyDays(), unproven, {"v", kMade, kMade, "TR", "  "}) == VouchAnswer::kNeedsReason);
}

TEST_CASE("days in a state that does not count are neither proven nor missing, and the lawful day waits for them") {
  QualifyingRule rule = SixtyDays();
  rule.not_counting = {WheelState::kDrying};
  const std::vector<StateFrom> states{{kMade, WheelState::kDrying, true},
                                      {kMade + days{3}, WheelState::kRipening, true}};
  const Date today = kMade + days{10};
  const QualifyingAge age = QualifyingAgeOf(rule, kMade, today, Recorded(today), states, {});
  CHECK(age.not_counting == 3);
  CHECK(age.proven == 7);
  CHECK(age.earliest == kMade + days{63});
  CHECK(LawfulDate(rule, kMade, states) == kMade + days{63});
  // The plan's own word on the days of a stage.
  const std::vector<StateFrom> dried{{kMade, WheelState::kRipening, false},
                                     {kMade + days{2}, WheelState::kRipening, true}};
  CHECK(QualifyingAgeOf(SixtyDays(), kMade, today, Recorded(today), dried, {}).not_counting == 2);
}

TEST_CASE("a wheel that stays in a state that does not count has no earliest day") {
  QualifyingRule rule = SixtyDays();
  rule.not_counting = {WheelState::kDrying};
  const std::vector<StateFrom> states{{kMade, WheelState::kDrying, true}};
  CHECK_FALSE(QualifyingAgeOf(rule, kMade, kMade + days{5}, {}, states, {}).earliest);
}

TEST_CASE("what today was too cold is lost already") {
  const Date today = kMade + days{10};
  auto air = Recorded(today);
  air.push_back({today, Celsius{0.2}, minutes{5}});
  const QualifyingAge age = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {});
  CHECK(age.days.size() == 10);
  CHECK(age.earliest == kMade + days{61});
}

TEST_CASE("before its start event nothing counts; a rule without a temperature asks for no reading") {
  const QualifyingAge waiting = QualifyingAgeOf(SixtyDays(), std::nullopt, kMade, {}, {}, {});
  CHECK(waiting.days.empty());
  CHECK_FALSE(waiting.earliest);
  CHECK(waiting.of == 60);
  QualifyingRule any = SixtyDays();
  any.min_temperature.reset();
  CHECK(QualifyingAgeOf(any, kMade, kMade + days{60}, {}, {}, {}).Reached());
}

TEST_CASE("months are the calendar's; a day that a month lacks is full on the first of the next") {
  QualifyingRule months;
  months.name = "six months";
  months.min_months = 6;
  CHECK(LawfulDate(months, MakeDate(2026, 1, 15), {}) == MakeDate(2026, 7, 15));
  CHECK(LawfulDate(months, MakeDate(2026, 8, 31), {}) == MakeDate(2027, 3, 1));
  CHECK(LawfulDate(months, MakeDate(2027, 8, 29), {}) == MakeDate(2028, 2, 29));
  months.min_months = 10;
  CHECK(LawfulDate(months, MakeDate(2026, 4, 30), {}) == MakeDate(2027, 3, 1));
  CHECK(LawfulDate(months, MakeDate(2026, 3, 31), {}) == MakeDate(2027, 1, 31));
}

TEST_CASE("release is locked until the rule is reached; an override needs a name and a reason") {
  const Date full = kMade + days{60};
  const QualifyingAge young = QualifyingAgeOf(SixtyDays(), kMade, kMade + days{57}, Recorded(full), {}, {});
  const QualifyingAge old = QualifyingAgeOf(SixtyDays(), kMade, full, Recorded(full), {}, {});
  CHECK(JudgeRelease(old, {}) == ReleaseAnswer::kReleased);
  CHECK(JudgeRelease(young, {}) == ReleaseAnswer::kLocked);
  CHECK(JudgeRelease(young, {{"", "tested"}}) == ReleaseAnswer::kNeedsName);
  CHECK(JudgeRelease(young, {{"IH", " "}}) == ReleaseAnswer::kNeedsReason);
  CHECK(JudgeRelease(young, {{"IH", "to the laboratory"}}) == ReleaseAnswer::kReleased);
}

TEST_CASE("a rule that cannot be meant is refused") {
  CHECK_FALSE(FaultOf(SixtyDays()));
  const auto fault = [](auto change) {
    QualifyingRule rule = SixtyDays();
    change(rule);
    return FaultOf(rule);
  };
  CHECK(fault([](auto& rule) { rule.name = " "; }) == RuleFault::kNoName);
  CHECK(fault([](auto& rule) { rule.min_days = 0; }) == RuleFault::kNoDays);
  CHECK(fault([](auto& rule) { rule.min_days = -3; }) == RuleFault::kNoDays);
  CHECK(fault([](auto& rule) { rule.min_days = 6000; }) == RuleFault::kTooManyDays);
  CHECK(fault([](auto& rule) { rule.min_months = 500; }) == RuleFault::kTooManyMonths);
  CHECK(fault([](auto& rule) { rule.min_temperature = Celsius{35}; }) == RuleFault::kNoTemperature);
}

TEST_CASE("whatever was recorded, every day is judged once, and more proof never moves the lawful day away") {
  std::mt19937 chance(20260926);
  const auto roll = [&](int sides) { return std::uniform_int_distribution<int>(0, sides - 1)(chance); };
  for (int round = 0; round < 300; ++round) {
    const Date today = kMade + days{roll(120)};
    auto air = Recorded(today);
    for (DayOfAir& day : air) {
      if (roll(4) == 0) day.low = Celsius{static_cast<double>(roll(50)) / 10.0};
      if (roll(4) == 0) day.longest_silence = minutes{roll(200)};
      if (roll(9) == 0) day.low.reset();
    }
    const QualifyingAge age = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {});
    const int all = age.proven + age.vouched + age.missing + age.unproven + age.not_counting;
    if (all != static_cast<int>(age.days.size())) FAIL_CHECK("sums do not add up in round " << round);
    REQUIRE(age.earliest);
    const QualifyingAge trusted = QualifyingAgeOf(SixtyDays(), kMade, today, air, {}, {VouchedFor(kMade, today)});
    if (*trusted.earliest > *age.earliest) FAIL_CHECK("a vouched day delays in round " << round);
    if (age.Reached() != (*age.earliest <= today)) FAIL_CHECK("reached and earliest differ in round " << round);
  }
}
