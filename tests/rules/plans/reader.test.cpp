#include <algorithm>

#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

// The smallest plan that says everything; each case below spoils one line of it.
constexpr std::string_view kPlan = R"(format = 1
id = "practice"
version = 1
family = "A plan to practise on"
rind_words = "bare"
rind = "natural and pressed"
hardiness = "hard"
[[parts]]
start = "made"
[[parts.stages]]
name = "first"
state = "drying"
first_day = 1
last_day = 7
source = "invented"
temperature_target = { low = 12, high = 13, source = "invented" }
temperature_band = { low = 10.5, high = 14.5, source = "invented" }
[[parts.stages.cares]]
kinds = ["wash"]
brings = ["turn"]
every_days = 2
tolerance = 1
source = "invented"
[[parts.stages]]
name = "second"
state = "ripening"
first_day = 8
source = "invented"
[[parts.stages.cares]]
kinds = ["salt", "brush"]
times_a_week = 2
source = "invented"
[[parts]]
start = "entered box"
asked_from = 3
question = "In the box?"
[[parts.stages]]
name = "box"
state = "ripening"
first_day = 1
last_day = 9
source = "invented"
[[parts.stages.cares]]
kinds = ["look"]
once_on_day = 4
source = "invented"
[parts.branch]
question = "Which way?"
asked_from = 9
default_option = "left"
[[parts.branch.options]]
name = "left"
[[parts.branch.options.stages]]
name = "on"
state = "holding"
first_day = 10
source = "invented"
[[parts.branch.options]]
name = "right"
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

TEST_CASE("a sound plan reads whole") {
  const PlanReading reading = ReadPlan(kPlan, "practice");
  REQUIRE(reading.faults.empty());
  REQUIRE(reading.plan);
  CHECK(reading.plan->hardiness == 3);
  REQUIRE(reading.plan->parts.size() == 2);
  const Stage& first = reading.plan->parts[0].stages[0];
  CHECK(first.cares[0].tolerance == 1);
  CHECK(first.temperature_band == Figure{10.5, 14.5, "invented"});
  CHECK(!reading.plan->parts[0].stages[1].last_day);
  CHECK(reading.plan->parts[0].stages[1].cares[0].kinds == std::vector{CareKind::kSalt, CareKind::kBrush});
  CHECK(reading.plan->parts[1].branch->options[1].stages.empty());
}

TEST_CASE("a fault names its line, its field, what was expected, what was found and what to do") {
  const struct {
    std::string_view old_text, new_text, fault;
  } rows[] = {
      {"format = 1", "format = 2",
       "practice, line 1: format: expected 1, the format this program reads, found 2; use a program that knows the "
       "format, or write the plan anew"},
      {"id = \"practice\"", "id = \"My Plan\"",
       "practice, line 2: id: expected small letters, digits and hyphens, found \"My Plan\"; rename it"},
      {"version = 1", "version = \"one\"",
       "practice, line 3: version: expected a whole number from 1 to 1000000000, found \"one\"; correct it"},
      {"family = \"A plan to practise on\"\n", "", "practice: family: missing; write family = a text"},
      {"rind_words", "rind_word", "practice: rind_words: missing; write rind_words = a text"},
      {"hardiness = \"hard\"", "hardiness = \"stone\"",
       "practice, line 7: hardiness: expected soft, blue, semi-hard or hard, found \"stone\"; correct it"},
      {"start = \"made\"", "start = \"bought\"",
       "practice, line 9: parts[0].start: expected made, salted, dry, entered box, entered cave, pierced, wrapped, "
       "entered cold "
       "store or waxed, found \"bought\"; correct it"},
      {"last_day = 7", "last_day = 0",
       "practice, line 14: parts[0].stages[0].last_day: expected day 1 or later, found 0; exchange first_day and "
       "last_day or correct them"},
      {"first_day = 8", "first_day = 9",
       "practice, line 27: parts[0].stages[1].first_day: expected day 8, the day after the stage before, found 9: a "
       "gap; move this day or the last_day of the stage before"},
      {"first_day = 8", "first_day = 6",
       "practice, line 27: parts[0].stages[1].first_day: expected day 8, the day after the stage before, found 6: an "
       "overlap; move this day or the last_day of the stage before"},
      {"first_day = 10", "first_day = 12",
       "practice, line 56: parts[1].branch.options[0].stages[0].first_day: expected day 10, the day after the stage "
       "before, found 12: a gap; move this day or the last_day of the stage before"},
      {"first_day = 1\n", "first_day = 2\n",
       "practice, line 13: parts[0].stages[0].first_day: expected day 0 or 1 of the part, found 2: a gap; begin the "
       "first stage with the part"},
      {"last_day = 7\n", "",
       "practice, line 10: parts[0].stages[0].last_day: missing: only the last stage of a part may be without an end; "
       "write the day before the next stage begins"},
      {"low = 12, high = 13", "low = 13, high = 12",
       "practice, line 16: parts[0].stages[0].temperature_target: expected low at or below high, found 13 to 12; "
       "exchange or correct them"},
      {"low = 10.5, high = 14.5", "low = 12.5, high = 14.5",
       "practice, line 17: parts[0].stages[0].temperature_band: expected a band that holds the target 12 to 13, found "
       "12.5 to 14.5; widen the band or move the target"},
      {"low = 10.5, high = 14.5", "low = nan, high = 14.5",
       "practice, line 17: parts[0].stages[0].temperature_band.low: expected a number from -10 to 60, found nan; "
       "correct it"},
      {"high = 13, source = \"invented\"", "high = 13",
       "practice, line 16: parts[0].stages[0].temperature_target.source: missing; write source = a text"},
      {"kinds = [\"wash\"]", "kinds = [\"wsh\"]",
       "practice, line 19: parts[0].stages[0].cares[0].kinds[0]: expected turn, wash, brush, pat, rub, salt, wipe, "
       "oil, "
       "coat, pierce, wrap, move, look, weigh, wax, bandage or taste, found \"wsh\"; write one of these words"},
      {"kinds = [\"wash\"]", "kinds = []",
       "practice, line 19: parts[0].stages[0].cares[0].kinds: expected at least one kind, found none; name the work: "
       "[\"turn\"]"},
      {"brings = [\"turn\"]", "brings = [\"wash\"]",
       "practice, line 20: parts[0].stages[0].cares[0].brings[0]: expected another kind than the care's own, found "
       "\"wash\"; a care cannot bring itself"},
      {"tolerance = 1", "tolerance = 2",
       "practice, line 22: parts[0].stages[0].cares[0].tolerance: expected whole days shorter than the care's "
       "interval, found 2; shorten it"},
      {"every_days = 2\n", "",
       "practice, line 18: parts[0].stages[0].cares[0].cadence: expected exactly one of every_days, times_a_week, "
       "once_on_day, morning_and_evening = true, only_together = true, found 0; say how often the care comes"},
      {"times_a_week = 2", "times_a_week = 8",
       "practice, line 31: parts[0].stages[1].cares[0].times_a_week: expected a whole number from 1 to 7, found 8; "
       "correct it"},
      {"times_a_week = 2", "only_together = true",
       "practice, line 31: parts[0].stages[1].cares[0].only_together: expected another care of the stage that brings "
       "it, found none: it would never be asked; give it a cadence or name it in another care's brings"},
      {"once_on_day = 4", "once_on_day = 12",
       "practice, line 45: parts[1].stages[0].cares[0].once_on_day: expected a day of its stage, found 12; move the "
       "care to the stage that holds the day"},
      {"question = \"In the box?\"\n", "",
       "practice, line 33: parts[1].question: missing; write the question whose yes begins this part: \"Dry to the "
       "touch?\""},
      {"asked_from = 3\n", "",
       "practice, line 33: parts[1].asked_from: missing; write the day of the part before from which the keeper is "
       "asked whether this part has begun"},
      {"start = \"entered box\"", "start = \"made\"",
       "practice, line 34: parts[1].start: expected another event than the parts before, found \"made\" again; a part "
       "begins with an event of its own"},
      {"default_option = \"left\"", "default_option = \"ahead\"",
       "practice, line 50: parts[1].branch.default_option: expected the name of one of the options, found \"ahead\"; "
       "the plan follows it until the keeper answers"},
      {"default_option = \"left\"\n", "",
       "practice, line 47: parts[1].branch.default_option: missing; write default_option = a text"},
      {"name = \"right\"", "name = \"left\"",
       "practice, line 59: parts[1].branch.options[1].name: expected another name, found \"left\" again; rename it"},
      {"[[parts.branch.options]]\nname = \"right\"\n", "",
       "practice, line 51: parts[1].branch.options: expected two or more, found 1; a branch without a choice is no "
       "branch"},
  };
  for (const auto& row : rows) {
    INFO(row.new_text);
    const std::vector<std::string> faults = FaultsOf(With(row.old_text, row.new_text));
    CAPTURE(faults);
    CHECK(std::ranges::find(faults, row.fault) != faults.end());
  }
}

TEST_CASE("a fault does not drag others after it") {
  for (const auto& [old_text, new_text] : {
           std::pair{"first_day = 8", "first_day = \"eight\""},
           std::pair{"last_day = 7", "last_day = 7.5"},
           std::pair{"low = 12, high = 13", "low = \"cool\", high = 13"},
           std::pair{"kinds = [\"wash\"]", "kinds = \"wash\""},
           std::pair{"every_days = 2", "every_days = 0"},
           std::pair{"start = \"entered box\"", "start = \"box\""},
           std::pair{"default_option = \"left\"", "default_option = 1"},
       }) {
    INFO(new_text);
    const auto faults = FaultsOf(With(old_text, new_text));
    CAPTURE(faults);
    CHECK(faults.size() == 1);
  }
}

TEST_CASE("an unknown setting is a fault that names the likely one") {
  const auto faults = FaultsOf(With("every_days = 2\n", "every_days = 2\nevry_days = 3\n"));
  CHECK(faults == std::vector<std::string>{"practice, line 22: parts[0].stages[0].cares[0].evry_days: is not a setting "
                                           "of a plan here; did you mean \"every_days\"?"});
}

TEST_CASE("all faults of a text come in one go, in the order of the lines") {
  std::string text = With("version = 1", "version = 0");
  for (const auto& [old_text, new_text] :
       {std::pair{"low = 12, high = 13", "low = 20, high = 13"}, std::pair{"first_day = 8", "first_day = 11"},
        std::pair{"once_on_day = 4", "once_on_day = 40"}}) {
    text.replace(text.find(old_text), std::string_view{old_text}.size(), new_text);
  }
  const PlanReading reading = ReadPlan(text, "practice");
  CHECK(!reading.plan);
  std::vector<int> lines;
  for (const PlanFault& fault : reading.faults) lines.push_back(fault.line);
  CHECK(lines == std::vector<int>{3, 16, 27, 45});
}

TEST_CASE("text that is not TOML is one fault with its line") {
  const PlanReading reading = ReadPlan("format = 1\nid = \n", "practice");
  REQUIRE(reading.faults.size() == 1);
  CHECK(reading.faults[0].line == 2);
  CHECK(!reading.plan);
}

TEST_CASE("cares that bring each other are a circle, cares that bring bringers are two levels") {
  const std::string_view other =
      "[[parts.stages.cares]]\nkinds = [\"turn\"]\nbrings = [\"$\"]\nevery_days = 3\nsource = "
      "\"invented\"\n[[parts.stages]]\nname = \"second\"";
  std::string circle{other}, two_levels{other};
  circle.replace(circle.find('$'), 1, "wash");
  two_levels.replace(two_levels.find('$'), 1, "wipe");
  const std::string_view place = "[[parts.stages]]\nname = \"second\"";
  const auto circular = FaultsOf(With(place, circle));
  REQUIRE(circular.size() == 2);
  CHECK(circular[0].find("a circle") != std::string::npos);
  const auto deep = FaultsOf(With(place, two_levels));
  REQUIRE(deep.size() == 1);
  CHECK(deep[0].find("two levels") != std::string::npos);
}

TEST_CASE("two cadences for one kind in a stage are a fault, a once care beside a recurring one is not") {
  const std::string_view place = "[[parts.stages]]\nname = \"second\"";
  const std::string care = "[[parts.stages.cares]]\nkinds = [\"wash\"]\nsource = \"invented\"\n";
  CHECK(FaultsOf(With(place, care + "every_days = 5\n" + std::string{place})).size() == 1);
  CHECK(FaultsOf(With(place, care + "once_on_day = 5\n" + std::string{place})).empty());
}
