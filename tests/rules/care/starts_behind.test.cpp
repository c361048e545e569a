#include "rules/care/starts_behind.hpp"

#include "tests/catch.hpp"
#include "tests/rules/care/wheel.hpp"

using namespace rindwatch::rules;
using namespace rindwatch::rules::testing;

namespace {

// From the make to dry to the touch (three to seven days), then for ever.
Plan Dried(std::string id, StartKind start, std::string question) {
  Plan plan = WithPart(PlanOf({StageOf(1, 7, {})}), start, 3, {StageOf(1, std::nullopt, {})});
  plan.id = std::move(id);
  plan.parts.back().question = std::move(question);
  plan.parts.back().usual_days = Figure{3, 7, "invented"};
  return plan;
}

std::vector<StartBehind> Behind(const Wheel& wheel, const Plan& to, int day) {
  return StartsBehind(wheel.History(), to, wheel.Calendar().turn, wheel.At(day, 12));
}

const Plan kTomme = Dried("tomme", StartKind::kEnteredCave, "Dry to the touch?");

}  // namespace

TEST_CASE("the same question is not asked twice: its answer under another plan counts, seen or reckoned") {
  const Plan curd = Dried("curd", StartKind::kDry, "Dry to the touch?");
  Wheel wheel{kTomme};
  wheel.Start(StartKind::kEnteredCave, 4);
  CHECK(Behind(wheel, curd, 46) == std::vector<StartBehind>{{StartKind::kDry, Day(4), false}});
  wheel.History().starts.back().reckoned = true;
  CHECK(Behind(wheel, curd, 46) == std::vector<StartBehind>{{StartKind::kDry, Day(4), true}});
}

TEST_CASE("a question that a keeper has not answered yes goes on under the other plan") {
  CHECK(Behind(Wheel{kTomme}, Dried("curd", StartKind::kDry, "Dry to the touch?"), 46).empty());
}

TEST_CASE("what no keeper was asked lies behind once the plan's usual length is over, and not before") {
  const Wheel wheel{Always({})};
  const Plan curd = Dried("curd", StartKind::kDry, "Dry?");
  CHECK(Behind(wheel, curd, 5).empty());
  CHECK(Behind(wheel, curd, 6) == std::vector<StartBehind>{{StartKind::kDry, Day(5), true}});
  CHECK(Behind(wheel, curd, 46) == std::vector<StartBehind>{{StartKind::kDry, Day(5), true}});
}

TEST_CASE("the plan's first part begins where the wheel's life began") {
  Plan salted = Always({});
  salted.id = "salted";
  salted.parts.front().start = StartKind::kSalted;
  CHECK(Behind(Wheel{Always({})}, salted, 9) == std::vector<StartBehind>{{StartKind::kSalted, Day(0), true}});
}

TEST_CASE("what only hands do is never taken for done, nor what follows it") {
  const Wheel wheel{Always({})};
  for (const StartKind kind : {StartKind::kWrapped, StartKind::kWaxed, StartKind::kEnteredColdStore}) {
    Plan plan = Dried("by hand", kind, kind == StartKind::kEnteredColdStore ? "Into the cold?" : "");
    plan = WithPart(std::move(plan), StartKind::kDry, 3, {StageOf(1, std::nullopt, {})});
    plan.parts.back().usual_days = Figure{3, 7, "invented"};
    CHECK(Behind(wheel, plan, 90).empty());
  }
}

TEST_CASE("a copy of the plan, and a new version, leave all as it stands") {
  Plan copy = kTomme;
  copy.id = "my own tomme";
  copy.parts.back().question = "Dry enough?";
  CHECK(Behind(Wheel{kTomme}, copy, 46).empty());
  Plan next = kTomme;
  next.version = 2;
  CHECK(Behind(Wheel{kTomme}, next, 46).empty());
}
