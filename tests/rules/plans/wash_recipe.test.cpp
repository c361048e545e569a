// The recipe of a wash, as a plan file gives it.
#include <algorithm>

#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

constexpr std::string_view kPlan = R"(format = 1
id = "practice"
version = 1
family = "A plan to practise on"
rind_words = "orange"
rind = "washed"
hardiness = "soft"
[[parts]]
start = "made"
[[parts.stages]]
name = "washed"
state = "ripening"
first_day = 0
source = "invented"
[[parts.stages.cares]]
kinds = ["wash"]
every_days = 2
source = "invented"
[parts.stages.cares.wash]
salt = { low = 3, high = 5, source = "invented" }
note = "Boiled, cooled water."
[[parts.stages.cares.wash.additions]]
name = "cider"
ml_per_litre = 20.5
source = "invented"
)";

std::vector<std::string> FaultsWith(std::string_view old_text, std::string_view new_text) {
  std::string text{kPlan};
  const auto at = text.find(old_text);
  REQUIRE(at != std::string::npos);
  text.replace(at, old_text.size(), new_text);
  std::vector<std::string> faults;
  for (const PlanFault& fault : ReadPlan(text, "practice").faults) faults.push_back(ToText(fault, "practice"));
  return faults;
}

}  // namespace

TEST_CASE("a wash reads as salt, additions and a note") {
  const PlanReading reading = ReadPlan(kPlan, "practice");
  REQUIRE(reading.plan);
  const Wash expected{{3, 5, "invented"}, {{"cider", 20.5, "invented"}}, "Boiled, cooled water."};
  CHECK(reading.plan->parts[0].stages[0].cares[0].wash == expected);
}

TEST_CASE("a wash that cannot be mixed or should not be says why") {
  const struct {
    std::string_view old_text, new_text, fault;
  } rows[] = {
      {"salt = { low = 3, high = 5, source = \"invented\" }\n", "",
       "practice, line 19: parts[0].stages[0].cares[0].wash.salt: missing; write salt = { low = ..., high = ..., "
       "source "
       "= \"...\" }"},
      {"low = 3, high = 5", "low = 5, high = 3",
       "practice, line 20: parts[0].stages[0].cares[0].wash.salt: expected low at or below high, found 5 to 3; "
       "exchange "
       "or correct them"},
      {"high = 5", "high = 35",
       "practice, line 20: parts[0].stages[0].cares[0].wash.salt.high: expected a number from 0 to 26.4, found 35; "
       "correct it"},
      {"ml_per_litre = 20.5\n", "",
       "practice, line 22: parts[0].stages[0].cares[0].wash.additions[0].ml_per_litre: missing; write ml_per_litre = a "
       "number from 0 to 1000"},
      {"\"cider\"", "\"Chlorine bleach\"",
       "practice, line 23: parts[0].stages[0].cares[0].wash.additions[0].name: expected what may touch cheese, found "
       "\"Chlorine bleach\", a cleaner; boards are cleaned with it, far from cheese, never rinds"},
      {"\"cider\"", "\"cider vinegar\"",
       "practice, line 23: parts[0].stages[0].cares[0].wash.additions[0].name: expected a caution beside vinegar, "
       "found "
       "none; write in the care's cautions that vinegar never meets chlorine: the gas is poisonous"},
  };
  for (const auto& row : rows) {
    INFO(row.new_text);
    const std::vector<std::string> faults = FaultsWith(row.old_text, row.new_text);
    CAPTURE(faults);
    CHECK(std::ranges::find(faults, row.fault) != faults.end());
  }
}

TEST_CASE("vinegar with its caution is the keeper's to choose") {
  std::string text{kPlan};
  text.replace(text.find("cider"), 5, "vinegar");
  const std::string_view place = "[parts.stages.cares.wash]";
  text.insert(text.find(place), "cautions = [\"Never where CHLORINE was used.\"]\n");
  CHECK(ReadPlan(text, "practice").faults.empty());
}
