// What begins a later part, and what its ready window counts from.
#include <algorithm>

#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

// A wheel that is wrapped on a day of its own.
constexpr std::string_view kPlan = R"(format = 1
id = "practice"
version = 1
family = "A plan to practise on"
rind_words = "bare"
rind = "fresh and white"
hardiness = "soft"
ready_from = "wrapped"
ready_days = { low = 9, high = 20, source = "invented" }
[[parts]]
start = "made"
[[parts.stages]]
name = "bare"
state = "rind forming"
first_day = 0
last_day = 14
source = "invented"
counts = false
[[parts.stages.cares]]
kinds = ["wrap"]
once_on_day = 12
source = "invented"
cautions = ["Clean hands."]
[[parts]]
start = "wrapped"
[[parts.stages]]
name = "in paper"
state = "ripening"
first_day = 1
source = "invented"
)";

std::string With(std::string_view old_text, std::string_view new_text) {
  std::string text{kPlan};
  const auto at = text.find(old_text);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old_text.size(), new_text);
}

std::vector<std::string> FaultsOf(const std::string& text) {
  std::vector<std::string> faults;
  for (const PlanFault& fault : ReadPlan(text, "practice").faults) faults.push_back(ToText(fault, "practice"));
  return faults;
}

}  // namespace

TEST_CASE("a part without a question begins with the first doing of the care it is named for") {
  const PlanReading reading = ReadPlan(kPlan, "practice");
  CAPTURE(FaultsOf(std::string{kPlan}));
  REQUIRE(reading.plan);
  CHECK(!BegunBy(reading.plan->parts[0]));
  CHECK(BegunBy(reading.plan->parts[1]) == CareKind::kWrap);
  CHECK(reading.plan->ready_from == StartKind::kWrapped);
  CHECK(!reading.plan->parts[0].stages[0].counts);
  CHECK(reading.plan->parts[1].stages[0].counts);
  CHECK(reading.plan->parts[0].stages[0].cares[0].cautions == std::vector<std::string>{"Clean hands."});
}

TEST_CASE("pierced, wrapped and waxed are begun by a care, a move is asked") {
  Part part;
  for (const auto& [start, kind] : {std::pair{StartKind::kPierced, std::optional{CareKind::kPierce}},
                                    std::pair{StartKind::kWrapped, std::optional{CareKind::kWrap}},
                                    std::pair{StartKind::kWaxed, std::optional{CareKind::kWax}},
                                    std::pair{StartKind::kEnteredBox, std::optional<CareKind>{}},
                                    std::pair{StartKind::kEnteredColdStore, std::optional<CareKind>{}},
                                    std::pair{StartKind::kMade, std::optional<CareKind>{}}}) {
    part.start = start;
    part.question = "";
    CHECK(BegunBy(part) == kind);
    part.question = "Done?";
    CHECK(!BegunBy(part));
  }
}

TEST_CASE("a part that nothing begins is a fault that says what could") {
  const struct {
    std::string_view old_text, new_text, fault;
  } rows[] = {
      {"once_on_day = 12", "every_days = 2",
       "practice, line 24: parts[1].question: missing; write the question whose yes begins this part, or ask \"wrap\" "
       "with once_on_day in the part before: its first doing begins this part"},
      {"start = \"wrapped\"", "start = \"wrapped\"\nasked_from = 12",
       "practice, line 26: parts[1].asked_from: expected none: without a question the first \"wrap\" begins this part, "
       "found 12; remove it or write the question"},
      {"start = \"wrapped\"", "start = \"wrapped\"\nquestion = \"Wrapped?\"",
       "practice, line 24: parts[1].asked_from: missing; write the day of the part before from which the keeper is "
       "asked whether this part has begun"},
      {"start = \"wrapped\"", "start = \"dry\"",
       "practice, line 24: parts[1].question: missing; write the question whose yes begins this part: \"Dry to the "
       "touch?\""},
      {"ready_from = \"wrapped\"", "ready_from = \"entered box\"",
       "practice, line 8: ready_from: expected the start of one of the parts (\"made\", \"wrapped\"), found \"entered "
       "box\"; count the ready window from one of them"},
      {"counts = false", "counts = \"no\"",
       "practice, line 18: parts[0].stages[0].counts: expected true or false, found \"no\"; correct it"},
      {"\"Clean hands.\"", "\"\"",
       "practice, line 23: parts[0].stages[0].cares[0].cautions[0]: expected a text that says something, found \"\"; "
       "write it or remove it"},
  };
  for (const auto& row : rows) {
    INFO(row.new_text);
    const std::vector<std::string> faults = FaultsOf(With(row.old_text, row.new_text));
    CAPTURE(faults);
    CHECK(std::ranges::find(faults, row.fault) != faults.end());
  }
}

TEST_CASE("what may begin a part may be asked on one road only") {
  const std::string text = With("[[parts]]\nstart = \"wrapped\"", R"([parts.branch]
question = "Which way?"
asked_from = 14
default_option = "bare"
[[parts.branch.options]]
name = "bare"
[[parts.branch.options]]
name = "paper"
ready_days = { low = 9, high = 12, source = "invented" }
[[parts.branch.options.stages]]
name = "to be wrapped"
state = "ripening"
first_day = 15
source = "invented"
[[parts.branch.options.stages.cares]]
kinds = ["wax"]
once_on_day = 16
source = "invented"
[[parts]]
start = "waxed")");
  const PlanReading reading = ReadPlan(text, "practice");
  std::vector<std::string> faults = FaultsOf(text);
  CAPTURE(faults);
  CHECK(faults.size() == 1);  // the ready window still counts from the wrapping
  const auto sound = ReadPlan(
      [&] {
        std::string changed = text;
        return changed.replace(changed.find("ready_from = \"wrapped\""), 22, "ready_from = \"made\"");
      }(),
      "practice");
  REQUIRE(sound.plan);
  CHECK(sound.plan->parts[0].branch->options[1].ready_days == Figure{9, 12, "invented"});
}
