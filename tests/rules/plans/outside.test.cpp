// The plan library beside published rules: the ripening times and temperatures of the Codex Alimentarius standards for
// single cheeses (CXS 263 to 277; lower limits, "normally from") and the least ages of 21 CFR part 133. Each family
// that has a counterpart is walked; agreement is printed, and where practice differs the difference stands here with
// its source. A difference that is no more is a fault of this file. See tests/reference/README.md for how each row was
// read.
#include <algorithm>
#include <cstdio>
#include <set>

#include "rules/plans/plan.hpp"
#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"

using namespace rindwatch::rules;

namespace {

// A stage of a plan with the earliest day from the make on which a wheel is in it.
struct Placed {
  const Stage* stage;
  int from_make;
};

std::vector<Placed> StagesOf(const Plan& plan) {
  std::vector<Placed> placed;
  int start = 0;
  for (const Part& part : plan.parts) {
    if (part.usual_days) start += static_cast<int>(part.usual_days->low);
    for (const Stage& stage : part.stages) placed.push_back({&stage, start + stage.first_day});
    if (!part.branch) continue;
    for (const BranchOption& option : part.branch->options) {
      for (const Stage& stage : option.stages) placed.push_back({&stage, start + stage.first_day});
    }
  }
  return placed;
}

// The youngest age, in days from the make, at which the plan calls a wheel ready, on any road.
int YoungestReady(const Plan& plan) {
  int start = 0, from = 0;
  double low = plan.ready_days->low;
  for (const Part& part : plan.parts) {
    if (part.usual_days) start += static_cast<int>(part.usual_days->low);
    if (part.start == plan.ready_from) from = start;
    if (!part.branch) continue;
    for (const BranchOption& option : part.branch->options) {
      if (option.ready_days) low = std::min(low, option.ready_days->low);
    }
  }
  return from + static_cast<int>(low);
}

// The stages after the drying that a wheel passes before the given age, whose target is not wholly in the span.
std::set<std::string> Elsewhere(const Plan& plan, int before_day, double low, double high) {
  std::set<std::string> names;
  for (const auto& [stage, from_make] : StagesOf(plan)) {
    if (stage->state == WheelState::kDrying || from_make > before_day || !stage->temperature_target) continue;
    if (stage->temperature_target->low < low || stage->temperature_target->high > high) names.insert(stage->name);
  }
  return names;
}

std::string Joined(const std::set<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : "; ") + name;
  return text;
}

void Print(const std::string& rule, const std::string& plan, const std::string& found) {
  std::printf("  %-16s %-22s %s\n", rule.c_str(), plan.c_str(), found.c_str());
}

}  // namespace

TEST_CASE("the library agrees with the Codex standards for single cheeses, or says where practice differs") {
  // `stages`: those that a wheel passes in the standard's time outside the standard's temperatures, and `why`. "Other
  // ripening conditions" are allowed by each standard where the cheese comes out equal.
  constexpr const char* kCooler =
      "the standard's last day, 10, is the plan's first at 8 to 12 degrees: common practice cools it before the paper";
  const struct {
    const char *standard, *plan, *stages, *why;
  } kRows[] = {
      {"CXS 263-1966", "clothbound", "", ""},
      {"CXS 264-1966", "pressed-semi-hard", "", ""},
      {"CXS 265-1966", "washed-curd", "", ""},
      {"CXS 266-1966", "washed-curd", "", ""},
      {"CXS 267-1966", "pressed-semi-hard", "first week",
       "common practice keeps it at 12 to 13 degrees, the standard at 14 to 18 for one to two weeks"},
      {"CXS 268-1966", "washed-curd", "", ""},
      {"CXS 269-1967", "alpine", "", ""},
      {"CXS 270-1968", "pressed-semi-hard", "", ""},
      {"CXS 271-1968", "pressed-semi-hard", "", ""},
      {"CXS 272-1968", nullptr, "", "stretched curd: the library has no such family"},
      {"CXS 274-1969", "bloomy", "to be wrapped", kCooler},
      {"CXS 276-1973", "bloomy", "to be wrapped", kCooler},
      {"CXS 277-1973", "bloomy", "to be wrapped", kCooler},
  };
  std::size_t walked = 0;
  std::printf("Codex Alimentarius, standards for single cheeses:\n");
  for (const Row& rule : ReadTable("codex_ripening.csv")) {
    const auto row = std::find_if(std::begin(kRows), std::end(kRows),
                                  [&](const auto& known) { return rule.at("standard") == known.standard; });
    INFO(rule.at("standard"));
    REQUIRE(row != std::end(kRows));
    ++walked;
    if (!row->plan) {
      Print(row->standard, "-", row->why);
      continue;
    }
    const auto plan = PlanFromLibrary(row->plan);
    REQUIRE(plan);
    const int least = static_cast<int>(NumberIn(rule, "ripening_days_min"));
    CHECK(YoungestReady(*plan) >= least);
    const auto elsewhere = Elsewhere(*plan, least, NumberIn(rule, "temp_min_C"), NumberIn(rule, "temp_max_C"));
    CHECK(Joined(elsewhere) == row->stages);
    CHECK(elsewhere.empty() == std::string{row->why}.empty());
    Print(row->standard, row->plan,
          elsewhere.empty() ? "agrees: ready from day " + std::to_string(YoungestReady(*plan)) + ", standard from " +
                                  std::to_string(least)
                            : "differs in \"" + Joined(elsewhere) + "\": " + row->why);
  }
  CHECK(walked == std::size(kRows));
}

TEST_CASE("the library agrees with the least ages of 21 CFR part 133, or says where practice differs") {
  constexpr const char* kRaw =
      "practice eats it younger, of pasteurised milk; of raw milk the rule holds and the release waits for it";
  constexpr const char* kNone = "the library has no such family";
  const struct {
    const char *section, *plan, *why;
  } kRows[] = {
      {"21 CFR 133.106", "blue", ""},
      {"21 CFR 133.108", "washed-soft", kRaw},
      {"21 CFR 133.111", nullptr, "stretched curd: the library has no such family"},
      {"21 CFR 133.113", "clothbound", ""},
      {"21 CFR 133.114", nullptr, "no curing is asked"},
      {"21 CFR 133.118", "waxed", ""},
      {"21 CFR 133.136", "washed-curd", kRaw},
      {"21 CFR 133.137", nullptr, "no curing is asked"},
      {"21 CFR 133.138", "washed-curd", kRaw},
      {"21 CFR 133.140", nullptr, kNone},
      {"21 CFR 133.141", "blue",
       "the rule asks 90 days of this one kind; the consortium of a lombard blue sells mild ones from 50, other blues "
       "60"},
      {"21 CFR 133.142", "washed-curd", kRaw},
      {"21 CFR 133.144", "clothbound", ""},
      {"21 CFR 133.148", "hard-grating", ""},
      {"21 CFR 133.149", "alpine",
       "the rule asks 90 days of this one kind; the interprofession of a small alpine cylinder asks 75"},
      {"21 CFR 133.150", "italian-style-pressed", ""},
      {"21 CFR 133.152", "washed-soft", kRaw},
      {"21 CFR 133.153", "waxed", ""},
      {"21 CFR 133.160", "washed-soft", kRaw},
      {"21 CFR 133.164", "blue", ""},
      {"21 CFR 133.165", "hard-grating",
       "the rule asks 10 months of this one kind; a consortium's page on ageing has 9 months for one kind, 12 for "
       "another"},
      {"21 CFR 133.181", nullptr, "stretched curd: the library has no such family"},
      {"21 CFR 133.182", "bloomy", kRaw},
      {"21 CFR 133.184", "blue", ""},
      {"21 CFR 133.185", "washed-curd",
       "the rule asks 60 days whatever the milk; practice eats washed-curd cheese from 4 weeks"},
      {"21 CFR 133.186", nullptr, kNone},
      {"21 CFR 133.187", "pressed-semi-hard", kRaw},
      {"21 CFR 133.190", nullptr, "spices, not ripening: any family"},
      {"21 CFR 133.195", "alpine", ""},
      {"21 CFR 133.196", "alpine", ""},
      {"7 CFR 58.439", "natural-tomme", ""},
  };
  std::size_t walked = 0;
  std::printf("21 CFR part 133, least ages:\n");
  for (const Row& rule : ReadTable("us_cfr_133.csv")) {
    const auto row = std::find_if(std::begin(kRows), std::end(kRows),
                                  [&](const auto& known) { return rule.at("section") == known.section; });
    INFO(rule.at("section"));
    REQUIRE(row != std::end(kRows));
    ++walked;
    if (!row->plan) {
      Print(row->section, "-", row->why);
      continue;
    }
    const auto plan = PlanFromLibrary(row->plan);
    REQUIRE(plan);
    const int least = static_cast<int>(NumberIn(rule, "min_age_days"));
    const int ready = YoungestReady(*plan);
    CHECK((ready >= least) == std::string{row->why}.empty());
    // A kind whose rule holds for raw milk alone differs by its milk, not by its practice.
    if (row->why == std::string_view{kRaw}) CHECK(rule.at("applies").starts_with("only when"));
    Print(row->section, row->plan,
          (ready >= least ? "agrees: " : "differs: ") + ("ready from day " + std::to_string(ready)) + ", rule from " +
              std::to_string(least) + (ready >= least ? "" : "; " + std::string{row->why}));
  }
  CHECK(walked == std::size(kRows));
}

// 35 °F, exactly 5/3 °C: colder days do not count towards the ages above. Only what is held or ripens cold comes near.
TEST_CASE("bands that reach below 35 °F are those of cold stages, and known") {
  constexpr double kLeast = 5.0 / 3;
  std::set<std::string> found;
  for (const Plan& plan : PlanLibrary()) {
    for (const auto& [stage, from_make] : StagesOf(plan)) {
      if (!stage->temperature_band || stage->temperature_band->low >= kLeast) continue;
      found.insert(plan.id + ": " + stage->name);
      // The target itself never does.
      CHECK(stage->temperature_target->low >= kLeast);
    }
  }
  CHECK(found == std::set<std::string>{"bloomy: holding", "blue: ripe", "blue: slow", "brined: kept", "brined: ripe",
                                       "brined: ripening in brine", "washed-soft: cold, dry for the paper",
                                       "washed-soft: cold, ripe", "washed-soft: cold, washed", "washed-soft: holding"});
}
