// Wheels that change plan, and new versions of plans: an edit touches only the future.
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::CareKind;

// Two pressed wheels in their box since nine days, washed yesterday.
struct Boxed : Keeping {
  Boxed() {
    Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 12), 9));
    now += 1h;
    json::object wash = Act("care", Care({1, 2}, {"wash"}));
    Do(wash);
    now += 24h;
  }
  const rules::Plan& PlanOf(rules::WheelId wheel) const {
    standing_ = rules::StandingAt(Wheel(wheel).History(), book.CalendarOf(1), now);
    return *standing_.plan;
  }
  void Undo(const JournalLine& line) { Do("undo", {{"of", line.id}}); }
  static json::object Edited(std::vector<std::int64_t> wheels) {
    return {
        {"plan", "pressed-semi-hard"},
        {"version", 1},
        {"edits", json::array{{{"part", 1}, {"stage", 0}, {"set", {{"humidity_band", {{"low", 80}, {"high", 96}}}}}}}},
        {"wheels", json::value_from(wheels)}};
  }

 private:
  mutable rules::Standing standing_;
};

TEST_CASE("a wheel that changes plan follows it from the day on; what was done before keeps its version") {
  Boxed boxed;
  const JournalLine change = boxed.Do("plan", {{"wheels", Ids({1})}, {"plan", "bloomy"}, {"version", 1}});
  CHECK(boxed.PlanOf(1).id == "bloomy");
  CHECK(boxed.PlanOf(2).id == "pressed-semi-hard");
  CHECK(boxed.Wheel(1).History().acts.back().under->id == "pressed-semi-hard");
  CHECK(boxed.book.IsPlanKept("bloomy", 1));
  // Its name stays, its family is the new plan's.
  CHECK(boxed.book.WheelName(boxed.Wheel(1)) == "Pressed semi-hard 1");
  CHECK(boxed.book.FamilyOf(boxed.Wheel(1)) == "Bloomy");
  boxed.Undo(change);
  CHECK(boxed.PlanOf(1).id == "pressed-semi-hard");
  CHECK(boxed.book.FamilyOf(boxed.Wheel(1)) == "Pressed semi-hard");
  CHECK_THAT(boxed.Refused("plan", {{"wheels", Ids({1})}, {"plan", "bloomy"}, {"version", 9}}).what,
             Says("no plan \"bloomy\", version 9"));
  CHECK(boxed.Refused("plan", {{"wheels", Ids({1})}, {"plan", "rindless"}, {"version", 1}}).field == "plan");
}

TEST_CASE("an edit makes a new version that the named wheels follow, and the old one stays as it is") {
  Boxed boxed;
  const JournalLine edit = boxed.Do("plan text", Boxed::Edited({1}));
  CHECK(json::parse(edit.given).as_object().at("version").to_number<int>() == 2);
  CHECK(boxed.PlanOf(1).version == 2);
  CHECK(boxed.PlanOf(1).parts[1].stages[0].humidity_band->high == Approx(96));
  CHECK(boxed.PlanOf(2).version == 1);
  CHECK(boxed.book.Plan("pressed-semi-hard", 1)->parts[1].stages[0].humidity_band->high != Approx(96));
  CHECK(boxed.Wheel(1).History().acts.back().under->version == 1);
  boxed.now += 1h;
  boxed.Do("care", Care({1}, {"turn"}));
  CHECK(boxed.Wheel(1).History().acts.back().under->version == 2);
  // New wheels follow the newest.
  boxed.Do("enter", PressedWheels(1, InCave(1)));
  CHECK(boxed.PlanOf(3).version == 2);
  CHECK(boxed.book.VersionsOf("pressed-semi-hard").size() == 2);
}

TEST_CASE("an undone version is offered to nobody, and its number is not given again") {
  Boxed boxed;
  const JournalLine edit = boxed.Do("plan text", Boxed::Edited({1, 2}));
  boxed.Undo(edit);
  CHECK(boxed.PlanOf(1).version == 1);
  CHECK(boxed.book.VersionsOf("pressed-semi-hard").size() == 1);
  boxed.Do("enter", PressedWheels(1, InCave(1)));
  CHECK(boxed.PlanOf(3).version == 1);
  const JournalLine again = boxed.Do("plan text", Boxed::Edited({}));
  CHECK(json::parse(again.given).as_object().at("version").to_number<int>() == 3);
}

TEST_CASE("a text that was typed or brought in is checked, and what is wrong is told with line and field") {
  Boxed boxed;
  const auto text = [&](std::string toml) {
    return json::object{{"plan", "pressed-semi-hard"}, {"version", 1}, {"text", toml}, {"wheels", Ids({})}};
  };
  const std::string own = boxed.book.PlanFile(*boxed.book.Plan("pressed-semi-hard", 1));
  boxed.Do("plan text", text(own));
  CHECK(boxed.book.Plan("pressed-semi-hard", 2) != nullptr);
  std::string broken = own;
  broken.replace(broken.find("hardiness"), 9, "herdiness");
  const ActFault fault = boxed.Refused("plan text", text(broken));
  CHECK_THAT(fault.what, Says("Line "));
  CHECK_THAT(fault.field, Says("h"));
  CHECK_FALSE(boxed.Refused("plan text", text("no TOML [")).what.empty());
  CHECK(boxed.Refused("plan text", text(std::string(200'001, '#'))).field == "text");
}

TEST_CASE("a copy is a plan of its own under another name") {
  Boxed boxed;
  const json::object copy{
      {"plan", "pressed-semi-hard"}, {"version", 1}, {"copy_as", "Tall tomme of ours"}, {"wheels", Ids({})}};
  const JournalLine line = boxed.Do("plan text", copy);
  const json::object given = json::parse(line.given).as_object();
  CHECK(given.at("plan").as_string() == "tall-tomme-of-ours");
  CHECK(given.at("version").to_number<int>() == 1);
  CHECK(boxed.book.Offered().back()->family == "Tall tomme of ours");
  CHECK_THAT(boxed.Refused("plan text", copy).what, Says("called \"Tall tomme of ours\" already"));
  json::object enter = PressedWheels(1, InCave(1));
  enter["plan"] = "tall-tomme-of-ours";
  boxed.Do("enter", enter);
  CHECK(boxed.book.WheelName(boxed.Wheel(3)) == "Tall tomme of ours 1");
  boxed.Undo(line);
  CHECK(boxed.book.Offered().back()->family != "Tall tomme of ours");
}

TEST_CASE("edits that cannot be are refused with their place in the list") {
  Boxed boxed;
  const auto refused = [&](json::value edits) {
    json::object act = Boxed::Edited({});
    act["edits"] = std::move(edits);
    return boxed.Refused("plan text", act);
  };
  CHECK(refused(json::array{}).field == "edits");
  CHECK(refused("all").field == "edits");
  CHECK(refused(json::array{3}).field == "edits[0]");
  CHECK(refused(json::array{{{"part", 0}}}).field == "edits[0].stage");
  CHECK(refused(json::array{{{"part", 0}, {"stage", 0}, {"set", {{"tolerance", -1}}}}}).field == "edits[0].tolerance");
  const ActFault two =
      refused(json::array{{{"part", 1}, {"stage", 0}, {"care", 0}, {"set", {{"every_days", 2}, {"times_a_week", 3}}}}});
  CHECK_THAT(two.what, Says("A care has one cadence."));
  const ActFault nowhere =
      refused(json::array{{{"part", 7}, {"stage", 0}, {"set", {{"humidity_band", {{"low", 80}, {"high", 96}}}}}}});
  CHECK_THAT(nowhere.field, Says("edits[0]"));
  json::object nothing = Boxed::Edited({});
  nothing.erase("edits");
  CHECK(boxed.Refused("plan text", nothing).field == "edits");
  json::object both = Boxed::Edited({});
  both["text"] = "x";
  CHECK_THAT(boxed.Refused("plan text", both).what, Says("not of both"));
}

}  // namespace
}  // namespace rindwatch
