#include "rules/plans/edit.hpp"

#include "rules/plans/difference.hpp"
#include "tests/catch.hpp"
#include "tests/rules/plans/any_plan.hpp"

using namespace rindwatch::rules;
using rindwatch::rules::testing::AnyPlan;

namespace {

const Plan& Pressed() { return *PlanFromLibrary("pressed-semi-hard"); }

PlanEdit Edit(std::size_t part, std::size_t stage, std::optional<std::size_t> care, PlanSetting set,
              std::string option = "") {
  PlanEdit edit;
  edit.place = {part, std::move(option), stage, care};
  edit.set = std::move(set);
  edit.why = "dries out by the window";
  return edit;
}

PlanEdit Without(std::size_t part, std::size_t stage, std::optional<std::size_t> care, std::string option = "") {
  PlanEdit edit;
  edit.place = {part, std::move(option), stage, care};
  edit.remove = true;
  return edit;
}

Plan Applied(const Plan& plan, const std::vector<PlanEdit>& edits) {
  auto result = Apply(plan, edits);
  if (const auto* faults = std::get_if<std::vector<PlanFault>>(&result)) {
    for (const PlanFault& fault : *faults) UNSCOPED_INFO(ToText(fault, "plan"));
    FAIL("the edit was refused");
  }
  return std::get<Plan>(std::move(result));
}

std::string FirstFault(const Plan& plan, const std::vector<PlanEdit>& edits) {
  const auto result = Apply(plan, edits);
  const auto* faults = std::get_if<std::vector<PlanFault>>(&result);
  return faults && !faults->empty() ? faults->front().field + ": " + faults->front().what : "no fault";
}

PlanSetting Every(int days) {
  PlanSetting set;
  set.cadence = EveryDays{days};
  return set;
}
PlanSetting LastDay(int day) {
  PlanSetting set;
  set.last_day = day;
  return set;
}

}  // namespace

TEST_CASE("a changed band carries the keeper's reason as its source, and nothing else changes") {
  PlanSetting set;
  set.humidity_band = PlanSpan{82, 94};
  const Plan edited = Applied(Pressed(), {Edit(1, 0, std::nullopt, set)});
  CHECK(edited.parts[1].stages[0].humidity_band == Figure{82, 94, "dries out by the window"});
  CHECK(edited.version == Pressed().version);
  const auto changes = Differences(Pressed(), edited);
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].field == PlanChange::Field::kHumidityBand);
  CHECK(changes[0].part == 1);
  CHECK(changes[0].stage == "first week");
  CHECK(changes[0].was == PlanValue{Figure{80, 90, ""}});
  CHECK(changes[0].is == PlanValue{Figure{82, 94, ""}});
}

TEST_CASE("a new cadence along a road names the care, what it brings and both cadences") {
  const Plan edited = Applied(Pressed(), {Edit(1, 1, 0, Every(14), "keep on")});
  const auto changes = Differences(Pressed(), edited);
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].field == PlanChange::Field::kCadence);
  CHECK(changes[0].option == "keep on");
  CHECK(changes[0].kinds == std::vector{CareKind::kBrush, CareKind::kTurn});
  CHECK(changes[0].was == PlanValue{Cadence{TimesAWeek{1}}});
  CHECK(changes[0].is == PlanValue{Cadence{EveryDays{14}}});
  CHECK(edited.parts[1].branch->options[1].stages[1].cares[0].source == "dries out by the window");
}

TEST_CASE("a tolerance that was written for the old cadence goes with it") {
  const Plan& tomme = *PlanFromLibrary("natural-tomme");
  REQUIRE(tomme.parts[1].stages[2].cares[0].tolerance == 3);
  CHECK(!Applied(tomme, {Edit(1, 2, 0, Every(3))}).parts[1].stages[2].cares[0].tolerance);
}

TEST_CASE("a stage that ends later moves the beginning of the one after it, on every road") {
  const Plan edited =
      Applied(Pressed(), {Edit(1, 0, std::nullopt, LastDay(10)), Edit(1, 1, std::nullopt, LastDay(28))});
  CHECK(edited.parts[1].stages[1].first_day == 11);
  CHECK(edited.parts[1].branch->options[1].stages[0].first_day == 29);
  const auto changes = Differences(Pressed(), edited);
  CHECK(edited.parts[1].branch->options[0].stages[0].first_day == 29);
  REQUIRE(changes.size() == 4);
  CHECK(changes[1].stage == "young");
  CHECK(changes[1].was == PlanValue{StageDays{8, 21}});
  CHECK(changes[1].is == PlanValue{StageDays{11, 28}});
}

TEST_CASE("a care is added at the end of its stage, and taken away") {
  PlanEdit add;
  add.place = {1, "keep on", 1, std::nullopt};
  add.add = PlanAddition{{CareKind::kOil}, {}, EveryDays{60}};
  const Plan more = Applied(Pressed(), {add});
  const Care& oil = more.parts[1].branch->options[1].stages[1].cares.back();
  CHECK(oil.kinds == std::vector{CareKind::kOil});
  CHECK(oil.source == "the keeper's own choice");
  const auto changes = Differences(Pressed(), more);
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].field == PlanChange::Field::kCare);
  CHECK(changes[0].was == PlanValue{});
  CHECK(changes[0].is == PlanValue{Cadence{EveryDays{60}}});
  CHECK(Applied(more, {Without(1, 1, 1, "keep on")}) == Pressed());
}

TEST_CASE("a stage that is taken away leaves no gap") {
  const Plan shorter = Applied(Pressed(), {Without(1, 1, std::nullopt)});
  CHECK(shorter.parts[1].stages[0].last_day == 21);
  CHECK(shorter.parts[1].stages.size() == 1);
  const Plan from_the_start = Applied(Pressed(), {Without(1, 0, std::nullopt)});
  CHECK(from_the_start.parts[1].stages[0].first_day == 1);
  const Plan road = Applied(Pressed(), {Without(1, 0, std::nullopt, "keep on")});
  CHECK(road.parts[1].branch->options[1].stages[0].first_day == 22);
  CHECK(Applied(Pressed(), {Without(1, 1, std::nullopt, "keep on")}).parts[1].branch->options[1].stages[0].last_day ==
        730);
}

TEST_CASE("a care that begins the next part cannot be taken away unseen") {
  const Plan& bloomy = *PlanFromLibrary("bloomy");
  CHECK(FirstFault(bloomy, {Without(0, 4, 0)}).starts_with("parts[1].question: missing; write the question"));
}

TEST_CASE("what cannot be is refused in words, and names the edit or the field") {
  PlanSetting inverted, salt, hot, nothing;
  inverted.temperature_band = PlanSpan{15, 9};
  hot.temperature_band = PlanSpan{10, 900};
  salt.salt = PlanSpan{3, 4};
  PlanEdit nothing_asked;
  PlanEdit both = Without(1, 0, 0);
  both.set = Every(3);
  const struct {
    PlanEdit edit;
    std::string_view fault;
  } rows[] = {
      {Edit(1, 0, std::nullopt, inverted),
       "parts[1].stages[0].temperature_band: expected low at or below high, found 15 to 9"},
      {Edit(1, 0, std::nullopt, hot), "parts[1].stages[0].temperature_band.high: expected a number from -10 to 60"},
      {Edit(1, 1, std::nullopt, LastDay(70)),
       "parts[1].branch.options[0].stages[0].last_day: expected day 71 or later, found 60"},
      {Edit(0, 0, 0, salt), "edits[0].set.salt: expected a wash, found turn"},
      {Edit(1, 0, std::nullopt, Every(3)), "edits[0].set.cadence: is a setting of a care"},
      {Edit(1, 0, 0, LastDay(3)), "edits[0].set.last_day: is a setting of a stage"},
      {Edit(2, 0, std::nullopt, LastDay(3)), "edits[0].part: expected a number below 2, found 2"},
      {Edit(1, 5, std::nullopt, LastDay(3)), "edits[0].stage: expected a number below 2, found 5"},
      {Edit(1, 0, 4, Every(3)), "edits[0].care: expected a number below 1, found 4"},
      {Edit(1, 0, 0, Every(3), "sideways"),
       "edits[0].option: expected the name of a road of the part, found \"sideways\""},
      {Edit(0, 0, 0, Every(3), "keep on"), "edits[0].option: expected the name of a road of the part"},
      {nothing_asked, "edits[0]: expected one of set, add and remove, found 0"},
      {both, "edits[0]: expected one of set, add and remove, found 2"},
      {Without(0, 0, std::nullopt), "parts[0].stages: missing; a part needs at least one"},
  };
  for (const auto& row : rows) {
    INFO(row.fault);
    const std::string fault = FirstFault(Pressed(), {row.edit});
    CAPTURE(fault);
    CHECK(fault.starts_with(row.fault));
  }
  CHECK(FirstFault(Pressed(), {Edit(1, 0, 0, Every(2)), Edit(9, 0, 0, Every(2))}).starts_with("edits[1].part"));
}

TEST_CASE("the recipe of a wash can be changed") {
  PlanSetting salt;
  salt.salt = PlanSpan{2, 2.5};
  const Plan edited = Applied(Pressed(), {Edit(1, 0, 0, salt)});
  CHECK(edited.parts[1].stages[0].cares[0].wash->salt == Figure{2, 2.5, "dries out by the window"});
  const auto changes = Differences(Pressed(), edited);
  REQUIRE(changes.size() == 1);
  CHECK(changes[0].field == PlanChange::Field::kWash);
}

TEST_CASE("a wash that is added comes with its recipe, and one without a recipe gets one") {
  PlanEdit edit;
  edit.place = {0, "", 0, {}};
  edit.add = PlanAddition{{CareKind::kWash}, {CareKind::kTurn}, EveryDays{7}, PlanSpan{3, 4}};
  const Plan edited = Applied(Pressed(), {edit});
  const Care& wash = edited.parts[0].stages[0].cares.back();
  REQUIRE(wash.wash);
  CHECK(wash.wash->salt == Figure{3, 4, "the keeper's own choice"});
  edit.add->salt.reset();
  const Plan plain = Applied(Pressed(), {edit});
  CHECK_FALSE(plain.parts[0].stages[0].cares.back().wash);
  PlanSetting salt;
  salt.salt = PlanSpan{2, 3};
  const std::size_t last = plain.parts[0].stages[0].cares.size() - 1;
  CHECK(Applied(plain, {Edit(0, 0, last, salt)}).parts[0].stages[0].cares.back().wash->salt.high == 3);
  edit.add = PlanAddition{{CareKind::kBrush}, {}, EveryDays{7}, PlanSpan{3, 4}};
  CHECK(FirstFault(Pressed(), {edit}) == "edits[0].add.salt: expected none: only a wash has salt");
}

TEST_CASE("the ready window is changed for the plan, or for one road alone") {
  PlanSetting ready;
  ready.ready = PlanSpan{30, 90};
  const Plan whole = Applied(Pressed(), {Edit(0, 0, {}, ready)});
  CHECK(whole.ready_days == Figure{30, 90, "dries out by the window"});
  CHECK(whole.parts == Pressed().parts);
  const Plan road = Applied(Pressed(), {Edit(1, 0, {}, ready, "eat young")});
  CHECK(road.ready_days == Pressed().ready_days);
  CHECK(road.parts[1].branch->options[0].ready_days == Figure{30, 90, "dries out by the window"});
  CHECK(road.parts[1].branch->options[1] == Pressed().parts[1].branch->options[1]);
  ready.ready = PlanSpan{90, 30};
  CHECK(FirstFault(Pressed(), {Edit(0, 0, {}, ready)}) != "no fault");
  CHECK(FirstFault(Pressed(), {Edit(0, 0, 0, ready)}).starts_with("edits[0].set.ready: is a setting of a stage"));
}

TEST_CASE("a plan differs from itself in nothing, and from its sources in nothing") {
  for (unsigned seed = 0; seed < 200; ++seed) {
    Plan plan = AnyPlan(seed).Make();
    CHECK(Differences(plan, plan).empty());
    Plan other = plan;
    for (Part& part : other.parts) {
      for (Stage& stage : part.stages) {
        stage.source = "elsewhere";
        for (Care& care : stage.cares) care.source = "elsewhere";
      }
    }
    CHECK(Differences(plan, other).empty());
  }
}

TEST_CASE("whatever is edited by chance stays a sound plan or is refused, and the old one stays as it was") {
  int kept = 0;
  for (unsigned seed = 0; seed < 400; ++seed) {
    INFO("seed " << seed);
    AnyPlan chance(seed);
    const Plan plan = chance.Make();
    const Plan before = plan;
    std::vector<PlanEdit> edits;
    for (int i = chance.Between(1, 3); i > 0; --i) {
      PlanEdit edit;
      edit.place.part = static_cast<std::size_t>(chance.Between(0, static_cast<int>(plan.parts.size())));
      edit.place.stage = static_cast<std::size_t>(chance.Between(0, 2));
      if (chance.OneIn(3)) edit.place.option = "two";
      if (chance.OneIn(2)) edit.place.care = static_cast<std::size_t>(chance.Between(0, 2));
      if (chance.OneIn(4)) {
        edit.remove = true;
      } else if (edit.place.care) {
        edit.set = Every(chance.Between(0, 20));
      } else {
        edit.set = LastDay(chance.Between(0, 60));
      }
      edits.push_back(std::move(edit));
    }
    const auto result = Apply(plan, edits);
    REQUIRE(plan == before);
    if (const Plan* edited = std::get_if<Plan>(&result)) {
      ++kept;
      REQUIRE(CheckPlan(*edited).empty());
    } else {
      REQUIRE(!std::get<std::vector<PlanFault>>(result).empty());
    }
  }
  CHECK(kept > 20);
}

TEST_CASE("what came, went and was renamed is told as such") {
  Plan after = Pressed();
  after.family = "Pressed, ours";
  after.parts[1].stages[0].name = "seven days";
  after.parts[1].branch->options.push_back({"for the feast", {}, std::nullopt});
  after.parts.erase(after.parts.begin());
  after.parts[0].question.clear();
  after.parts[0].asked_from.reset();
  std::vector<PlanChange::Field> fields;
  for (const PlanChange& change : Differences(Pressed(), after)) fields.push_back(change.field);
  using F = PlanChange::Field;
  CHECK(fields == std::vector<F>{F::kFamily, F::kPart, F::kQuestion, F::kAskedFrom, F::kStageName, F::kOption});
}
