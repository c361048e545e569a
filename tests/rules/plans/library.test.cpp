#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "rules/care/cadence.hpp"
#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

std::string TextOfFile(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

void ForEachStage(const Plan& plan, const std::function<void(const Stage&)>& look) {
  for (const Part& part : plan.parts) {
    for (const Stage& stage : part.stages) look(stage);
    if (!part.branch) continue;
    for (const BranchOption& option : part.branch->options) {
      for (const Stage& stage : option.stages) look(stage);
    }
  }
}

// Presets leave at least this much room around the target, where the scale has it.
void CheckRoom(const std::optional<Figure>& target, const std::optional<Figure>& band, double room, double most) {
  if (!target || !band) return;
  CHECK(band->low <= target->low - room);
  CHECK(band->high >= std::min(target->high + room, most));
}

}  // namespace

TEST_CASE("every plan file of the library reads without a fault") {
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(RINDWATCH_SOURCE_DIR "/rules/plans/library")) {
    const std::string name = entry.path().filename().string();
    const PlanReading reading = ReadPlan(TextOfFile(entry.path()), name);
    INFO(name);
    for (const PlanFault& fault : reading.faults) UNSCOPED_INFO(ToText(fault, name));
    CHECK(reading.faults.empty());
    REQUIRE(reading.plan);
    CHECK(PlanFromLibrary(reading.plan->id));
    CHECK(*PlanFromLibrary(reading.plan->id) == *reading.plan);
    CHECK(CheckPlan(*reading.plan).empty());
    ++files;
  }
  CHECK(files == PlanLibrary().size());
}

TEST_CASE(
    "the library offers thirteen families and the washed kind of one, the pressed semi-hard plan first, and knows no "
    "plan that it does not have") {
  std::vector<std::string> ids;
  for (const Plan& plan : PlanLibrary()) ids.push_back(plan.id);
  CHECK(ids == std::vector<std::string>{"pressed-semi-hard", "bloomy", "lactic", "brined", "natural-tomme",
                                        "washed-tomme", "washed-curd", "italian-style-pressed", "clothbound",
                                        "hard-grating", "waxed", "washed-soft", "alpine", "blue"});
  CHECK(PlanFromLibrary("sealing wax") == nullptr);
}

TEST_CASE("a preset band leaves 1.5 degrees and 5 points around its target") {
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    ForEachStage(plan, [](const Stage& stage) {
      INFO(stage.name);
      CheckRoom(stage.temperature_target, stage.temperature_band, 1.5, 60);
      CheckRoom(stage.humidity_target, stage.humidity_band, 5, 100);
      CHECK(!stage.source.empty());
    });
    CHECK(!plan.cautions.empty());
  }
}

TEST_CASE("no road of the library has outlived its plan before its window closes") {
  for (const Plan& plan : PlanLibrary()) {
    for (const Part& part : plan.parts) {
      if (!part.branch) continue;
      for (const BranchOption& option : part.branch->options) {
        INFO(plan.id << ", " << option.name);
        CHECK_FALSE(option.stages.empty());
      }
    }
  }
}

// Common practice, no source: the last wash three to seven days before the paper.
TEST_CASE("a rind that will be wrapped is not washed in the three days before the paper") {
  int wrapped = 0;
  for (const Plan& plan : PlanLibrary()) {
    for (const Part& part : plan.parts) {
      std::vector<std::vector<Stage>> roads{part.stages};
      if (part.branch) {
        for (const BranchOption& option : part.branch->options) roads.push_back(option.stages);
      }
      for (const auto& road : roads) {
        for (const Stage& stage : road) {
          for (const Care& care : stage.cares) {
            const auto* once = std::get_if<OnceOnDay>(&care.cadence);
            if (!once || care.kinds.front() != CareKind::kWrap) continue;
            ++wrapped;
            const int opens = once->day - ToleranceOf(care);
            for (const Stage& before : road) {
              const bool washes = std::ranges::any_of(before.cares, [](const Care& other) {
                return std::ranges::count(other.kinds, CareKind::kWash) +
                       std::ranges::count(other.kinds, CareKind::kRub);
              });
              INFO(plan.id << ", " << before.name << ", paper from day " << opens);
              if (washes && before.first_day <= once->day) CHECK(before.last_day.value_or(opens) <= opens - 3);
            }
          }
        }
      }
    }
  }
  CHECK(wrapped > 0);
}

// Common practice, no source: the cadences and the climate of the family as keepers know them.
TEST_CASE("the pressed semi-hard plan is the common practice") {
  const auto plan = PlanFromLibrary("pressed-semi-hard");
  REQUIRE(plan->parts.size() == 2);
  const Part& drying = plan->parts[0];
  CHECK(drying.start == StartKind::kMade);
  REQUIRE(drying.stages.size() == 1);
  CHECK(!drying.stages[0].temperature_band);
  CHECK(!drying.stages[0].humidity_band);
  CHECK(drying.stages[0].cares.at(0).cadence == Cadence{MorningAndEvening{}});

  const Part& box = plan->parts[1];
  CHECK(box.start == StartKind::kEnteredBox);
  CHECK(box.asked_from == 2);
  CHECK(box.question == "Dry to the touch?");
  CHECK(box.usual_days->low == 2);
  CHECK(box.usual_days->high == 3);
  REQUIRE(box.stages.size() == 2);
  REQUIRE(box.branch);
  CHECK(box.branch->asked_from == 21);
  CHECK(box.branch->default_option == "keep on");
  REQUIRE(box.branch->options.size() == 2);
  REQUIRE(box.branch->options[0].stages.size() == 1);
  REQUIRE(box.branch->options[1].stages.size() == 2);

  const std::vector<CareKind> turn{CareKind::kTurn};
  const struct {
    const Stage& stage;
    int first, last;
    CareKind kind;
    Cadence cadence;
  } rows[] = {
      {box.stages[0], 1, 7, CareKind::kWash, EveryDays{1}},
      {box.stages[1], 8, 21, CareKind::kWash, TimesAWeek{2}},
      {box.branch->options[0].stages[0], 22, 60, CareKind::kWash, TimesAWeek{2}},
      {box.branch->options[1].stages[0], 22, 60, CareKind::kWash, TimesAWeek{2}},
      {box.branch->options[1].stages[1], 61, 730, CareKind::kBrush, TimesAWeek{1}},
  };
  for (const auto& row : rows) {
    INFO(row.stage.name);
    CHECK(row.stage.first_day == row.first);
    CHECK(row.stage.last_day == row.last);
    CHECK(row.stage.cares.at(0).kinds == std::vector{row.kind});
    CHECK(row.stage.cares.at(0).brings == turn);
    CHECK(row.stage.cares.at(0).cadence == row.cadence);
    CHECK(row.stage.temperature_target->low == 12);
    CHECK(row.stage.temperature_target->high == 13);
    CHECK(row.stage.humidity_target->low == 85);
  }
}

TEST_CASE("the example of the format's description reads without a fault") {
  const std::string text = TextOfFile(RINDWATCH_SOURCE_DIR "/rules/plans/README.md");
  const auto begin = text.find("```toml\n") + 8;
  const PlanReading reading = ReadPlan(text.substr(begin, text.find("```", begin) - begin), "example");
  for (const PlanFault& fault : reading.faults) UNSCOPED_INFO(ToText(fault, "example"));
  REQUIRE(reading.plan);
  CHECK(reading.plan->id == "tomme-of-the-upper-barn");
}

// What a keeper must be told where the care is done.
TEST_CASE("cares that can hurt the cheese or the keeper carry their caution") {
  const auto has = [](const Care& care, const std::string& word) {
    return std::ranges::any_of(care.cautions,
                               [&](const std::string& caution) { return caution.find(word) != std::string::npos; });
  };
  for (const Plan& plan : PlanLibrary()) {
    INFO(plan.id);
    ForEachStage(plan, [&](const Stage& stage) {
      for (const Care& care : stage.cares) {
        INFO(stage.name << ": " << ToText(care.kinds.front()));
        const auto is = [&](CareKind kind) { return std::ranges::find(care.kinds, kind) != care.kinds.end(); };
        if (is(CareKind::kWash) || care.wash) CHECK(has(care, "boiled and cooled water"));
        if (is(CareKind::kWash)) CHECK(has(care, "chlorine"));
        if (is(CareKind::kBrush) && !is(CareKind::kSalt)) CHECK(has(care, "FFP2"));
        if (is(CareKind::kWax)) CHECK(has(care, "Hot wax burns"));
        if (is(CareKind::kPierce)) CHECK(has(care, "needle is clean"));
        if (care.wash) {
          CHECK(care.wash->salt.high <= 8);
          for (const WashAddition& addition : care.wash->additions)
            CHECK(addition.name.find("vinegar") == std::string::npos);
        }
      }
    });
    CHECK(std::ranges::any_of(
        plan.cautions, [](const std::string& caution) { return caution.find("In band is about quality") == 0; }));
    CHECK(plan.ready_days);
  }
}
