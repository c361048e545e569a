// The second clock of a wheel: rule, vouching, letting go. How many days count is given to the desk.
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;

json::object ThreeDays() {
  return {{"name", "3 days at 10 °C or more"},     {"start", "made"}, {"min_celsius", 10}, {"min_days", 3},
          {"not_counting", json::array{"drying"}}, {"vouching", true}};
}

// A wheel with a rule, and one without.
struct Ruled : Keeping {
  Beside beside;

  Ruled() {
    Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 12), 9));
    Do("rule", {{"wheels", Ids({1})}, {"rule", ThreeDays()}});
    now += 1h;
    rules::QualifyingAge age;
    age.of = 3;
    age.proven = 2;
    age.unproven = 1;
    age.days = {{*DayFrom(DaysAgo(1)), rules::DayProof::kUnproven, {}}};
    beside.ages[1] = age;
  }
  std::variant<Judged, ActFault> With(const char* kind, json::object fields) {
    return JudgeAct(book, json::serialize(Act(kind, std::move(fields))), {}, now, beside);
  }
  JournalLine Does(const char* kind, json::object fields) {
    auto judged = With(kind, std::move(fields));
    if (auto* fault = std::get_if<ActFault>(&judged)) throw std::runtime_error(fault->what);
    return Take(std::get<Judged>(std::move(judged)));
  }
  ActFault Refuses(const char* kind, json::object fields) {
    auto judged = With(kind, std::move(fields));
    const auto* fault = std::get_if<ActFault>(&judged);
    return fault ? *fault : ActFault{};
  }
};

TEST_CASE("a rule is typed for wheels, changed and taken away; who typed it is known") {
  Ruled ruled;
  REQUIRE(ruled.book.RuleOf(ruled.Wheel(1)));
  CHECK(ruled.book.RuleOf(ruled.Wheel(1))->value->min_days == 3);
  CHECK(*ruled.book.KeeperOf(ruled.book.RuleOf(ruled.Wheel(1))->act) == "IH");
  CHECK(ruled.book.RuleOf(ruled.Wheel(2)) == nullptr);
  const JournalLine none = ruled.Do("rule", {{"wheels", Ids({1})}});
  CHECK(ruled.book.RuleOf(ruled.Wheel(1)) == nullptr);
  ruled.Do("undo", {{"of", none.id}});
  CHECK(ruled.book.RuleOf(ruled.Wheel(1)) != nullptr);
  json::object enter = PressedWheels(1, InCave(1));
  enter["rule"] = ThreeDays();
  ruled.Do("enter", enter);
  CHECK(ruled.book.RuleOf(ruled.Wheel(3))->value->name == "3 days at 10 °C or more");
}

TEST_CASE("a rule that cannot be used is refused with its field") {
  Ruled ruled;
  const auto refused = [&](const char* field, json::value value) {
    json::object rule = ThreeDays();
    rule[field] = std::move(value);
    return ruled.Refused("rule", {{"wheels", Ids({1})}, {"rule", rule}}).field;
  };
  CHECK(refused("name", "") == "name");
  CHECK(refused("start", "melted") == "start");
  CHECK(refused("min_days", 0) == "min_days");
  CHECK(refused("min_days", -1) == "min_days");
  CHECK(refused("min_days", "many") == "min_days");
  CHECK(refused("not_counting", json::array{"sold"}) == "not_counting");
  CHECK(refused("vouching", nullptr) == "vouching");
  CHECK(refused("min_celsius", "warm") == "min_celsius");
  CHECK(ruled.Refused("rule", {{"wheels", Ids({1})}, {"rule", 60}}).field == "rule");
}

TEST_CASE("a keeper vouches by name and reason for days that are over and of which nothing was recorded") {
  Ruled ruled;
  const json::object vouch{{"wheels", Ids({1})},
                           {"from", DaysAgo(1)},
                           {"to", DaysAgo(1)},
                           {"name", "IH"},
                           {"reason", "thermometer in the box"}};
  const JournalLine line = ruled.Does("vouch", vouch);
  REQUIRE(ruled.book.VouchesOf(ruled.Wheel(1)).size() == 1);
  CHECK(ruled.book.VouchesOf(ruled.Wheel(1)).front().reason == "thermometer in the box");
  ruled.Does("undo", {{"of", line.id}});
  CHECK(ruled.book.VouchesOf(ruled.Wheel(1)).empty());
  const auto refused = [&](const char* field, json::value value) {
    json::object other = vouch;
    other[field] = std::move(value);
    return ruled.Refuses("vouch", other);
  };
  CHECK(refused("name", "").field == "name");
  CHECK(refused("reason", nullptr).field == "reason");
  CHECK(refused("to", json::value(DaysAgo(0))).field == "to");
  CHECK(refused("to", json::value(DaysAgo(2))).field == "to");
  CHECK_THAT(refused("wheels", Ids({2})).what, Says("has no rule to vouch for"));
  json::object before = vouch;
  before["from"] = before["to"] = DaysAgo(5);
  CHECK_THAT(ruled.Refuses("vouch", before).what, Says("there is no day to vouch for"));
  json::object strict = ThreeDays();
  strict["vouching"] = false;
  ruled.now += 1min;
  ruled.Does("rule", {{"wheels", Ids({1})}, {"rule", strict}});
  CHECK_THAT(ruled.Refuses("vouch", vouch).what, Says("lets nobody vouch"));
}

TEST_CASE("a wheel is let go when its days are full, and not a day before") {
  Ruled ruled;
  const ActFault early = ruled.Refuses("release", {{"wheels", Ids({1, 2})}});
  CHECK_THAT(early.what, Says("Pressed semi-hard 1 is 1 day short: 2 of 3 days count"));
  CHECK(early.expected == "3 days");
  CHECK(early.found == "2 days");
  ruled.beside.ages[1].proven = 3;
  const JournalLine line = ruled.Does("release", {{"wheels", Ids({1, 2})}});
  CHECK(ruled.book.ReleaseOf(ruled.Wheel(1)) != nullptr);
  CHECK_FALSE(ruled.book.ReleaseOf(ruled.Wheel(1))->value.override_by);
  // What it was judged by stays with the line.
  CHECK(json::parse(line.given).as_object().at("ages").as_array().size() == 1);
  ruled.Does("undo", {{"of", line.id}});
  CHECK(ruled.book.ReleaseOf(ruled.Wheel(1)) == nullptr);
}

TEST_CASE("an override names who and why, and both stay") {
  Ruled ruled;
  const auto refused = [&](json::object by) {
    return ruled.Refuses("release", {{"wheels", Ids({1})}, {"override", std::move(by)}}).field;
  };
  CHECK(refused({{"name", ""}, {"reason", "own table"}}) == "override");
  CHECK(refused({{"name", "IH"}, {"reason", ""}}) == "override");
  ruled.Does("release", {{"wheels", Ids({1})}, {"override", {{"name", "IH"}, {"reason", "own table"}}}});
  CHECK(ruled.book.ReleaseOf(ruled.Wheel(1))->value.override_by->reason == "own table");
}

TEST_CASE("a wheel that is held is not let go, and one whose days are unknown neither") {
  Ruled ruled;
  ruled.Does("hold", {{"wheels", Ids({2})}, {"held", true}, {"why", "slime"}});
  CHECK_THAT(ruled.Refuses("release", {{"wheels", Ids({2})}}).what, Says("is held: slime."));
  ruled.beside.ages.clear();
  CHECK_THAT(ruled.Refuses("release", {{"wheels", Ids({1})}}).what, Says("is not known now"));
}

}  // namespace
}  // namespace rindwatch
