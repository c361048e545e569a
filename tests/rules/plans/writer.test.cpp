// A plan that is written reads as the same plan.
#include <cstdlib>

#include "tests/catch.hpp"
#include "tests/rules/plans/any_plan.hpp"

using namespace rindwatch::rules;
using rindwatch::rules::testing::AnyPlan;

namespace {

unsigned Seeds() {
  const char* many = std::getenv("RINDWATCH_SEEDS");
  return many ? static_cast<unsigned>(std::atoi(many)) : 400;
}

void CheckReadsAgain(const Plan& plan) {
  const std::string text = WritePlan(plan);
  const PlanReading reading = ReadPlan(text, "written");
  for (const PlanFault& fault : reading.faults) UNSCOPED_INFO(ToText(fault, "written"));
  UNSCOPED_INFO(text);
  REQUIRE(reading.plan);
  REQUIRE(*reading.plan == plan);
  REQUIRE(WritePlan(*reading.plan) == text);
}

}  // namespace

TEST_CASE("any sound plan is written so that it reads as itself") {
  for (unsigned seed = 0; seed < Seeds(); ++seed) {
    INFO("seed " << seed);
    const Plan plan = AnyPlan(seed).Make();
    for (const PlanFault& fault : CheckPlan(plan)) UNSCOPED_INFO(ToText(fault, "plan"));
    REQUIRE(CheckPlan(plan).empty());
    CheckReadsAgain(plan);
  }
}

TEST_CASE("every plan of the library is written so that it reads as itself") {
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    CheckReadsAgain(plan);
  }
}

TEST_CASE("a plan of the library keeps the comments of its own text, an edited one is written") {
  const Plan& plan = PlanLibrary().front();
  const std::string text = TextOf(plan);
  CHECK(text.starts_with("# Pressed semi-hard, washed with brine"));
  CHECK(ReadPlan(text, "library").plan == plan);
  Plan edited = plan;
  edited.version = 2;
  CHECK(TextOf(edited) == WritePlan(edited));
  CHECK(TextOf(edited).starts_with("# An ageing plan: parts counted from events"));
}

TEST_CASE("what is not said is not written") {
  Plan plan;
  plan.id = "bare";
  plan.family = "Bare";
  plan.rind_words = "bare";
  Stage stage;
  stage.name = "all of it";
  stage.source = "invented";
  stage.cares.push_back({{CareKind::kTurn}, {}, EveryDays{2}, std::nullopt, "", "invented"});
  plan.parts.push_back({StartKind::kMade, std::nullopt, "", std::nullopt, {stage}, std::nullopt});
  const std::string text = WritePlan(plan);
  CHECK(text.substr(text.find("format")) == R"(format = 1
id = "bare"
version = 1
family = "Bare"
rind_words = "bare"
rind = "natural and pressed"
hardiness = "semi-hard"

[[parts]]
start = "made"

[[parts.stages]]
name = "all of it"
state = "drying"
first_day = 0
source = "invented"

[[parts.stages.cares]]
kinds = ["turn"]
every_days = 2
source = "invented"
)");
}
