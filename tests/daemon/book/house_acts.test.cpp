// What keepers decide of the house as a whole: each act, what is refused, its undo.
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// A fridge with two boxes, a counter; a wheel in each but the fridge.
struct House : Keeping {
  House() {
    Do("enter", InTheBox(PressedWheels(1, NewCaveIn("box", json::object{{"kind", "fridge"}}), 12), 9));
    Do("enter", InTheBox(PressedWheels(1, NewCaveIn("box", 1), 12), 9));
    Do("enter", PressedWheels(1, NewCave("counter")));
    now += 1h;
  }
  void Undo(const JournalLine& line) {
    now += 1min;
    Do("undo", {{"of", line.id}});
  }
  std::vector<rules::CaveId> Walk() const {
    std::vector<rules::CaveId> walk;
    for (const CaveRow* cave : book.Caves()) walk.push_back(cave->id);
    return walk;
  }
};
using Walk = std::vector<rules::CaveId>;

TEST_CASE("the caves stand in the keeper's order, what stands inside another follows it") {
  House house;
  CHECK(house.Walk() == Walk{1, 2, 3, 4});
  const JournalLine order = house.Do("order", {{"caves", Ids({4, 3})}, {"by_room", true}});
  CHECK(house.Walk() == Walk{4, 1, 3, 2});
  CHECK(house.book.IsByRoom());
  house.Undo(order);
  CHECK(house.Walk() == Walk{1, 2, 3, 4});
  CHECK_FALSE(house.book.IsByRoom());
  CHECK_THAT(house.Refused("order", {{"caves", Ids({9})}, {"by_room", true}}).what, Says("There is no cave 9"));
  CHECK(house.Refused("order", {{"caves", Ids({1})}}).field == "by_room");
  CHECK(house.Refused("order", {{"by_room", true}}).field == "caves");
}

TEST_CASE("the shelves of a cave stand in walking order, those that nobody named behind them") {
  House house;
  for (const char* shelf : {"A1", "A2", "B1"}) {
    json::object where = InCave(4);
    where["shelf"] = shelf;
    house.Do("enter", PressedWheels(1, where));
  }
  const auto shelves = [&] { return house.book.ShelvesOf(*house.book.Cave(4)); };
  CHECK(shelves() == std::vector<std::string>{"A1", "A2", "B1"});
  const JournalLine order = house.Do("order", {{"cave", 4}, {"shelves", json::array{"B1", "A2"}}});
  CHECK(order.cave == 4);
  CHECK(shelves() == std::vector<std::string>{"B1", "A2", "A1"});
  house.Undo(order);
  CHECK(shelves() == std::vector<std::string>{"A1", "A2", "B1"});
  CHECK(house.Refused("order", {{"cave", 4}, {"shelves", json::array{""}}}).field == "shelves");
  CHECK(house.Refused("order", {{"cave", 9}, {"shelves", json::array{}}}).field == "cave");
}

TEST_CASE("care days are the cave's, and the care of what lies there follows them") {
  House house;
  const JournalLine days = house.Do("calendar", {{"cave", 2}, {"care_days", json::array{6, 3}}});
  CHECK(house.book.CalendarOf(2).care_days == std::set<unsigned>{3, 6});
  CHECK(house.book.CalendarOf(3).care_days.empty());
  house.now += 1min;
  house.Do("calendar", {{"cave", 2}, {"care_days", json::array{}}});
  CHECK(house.book.CalendarOf(2).care_days.empty());
  house.Undo(house.lines.back());
  CHECK(house.book.CalendarOf(2).care_days.size() == 2);
  house.Undo(days);
  CHECK(house.book.CalendarOf(2).care_days.empty());
  CHECK_THAT(house.Refused("calendar", {{"cave", 2}, {"care_days", json::array{8}}}).what, Says("1, Monday"));
  CHECK(house.Refused("calendar", {{"cave", 2}, {"care_days", json::array{0}}}).field == "care_days");
}

TEST_CASE("an absence marks its days for its caves or for all, and an undo takes them away") {
  House house;
  const auto away = [&](rules::CaveId cave) { return house.book.CalendarOf(cave).away.size(); };
  const JournalLine all = house.Do("away", {{"from", DaysAgo(-1)}, {"back", DaysAgo(-4)}});
  CHECK(away(1) == 3);
  CHECK(away(4) == 3);
  CHECK(rules::ToText(house.book.CalendarOf(4).away.front()) == DaysAgo(-1));
  CHECK(house.book.CalendarOf(std::nullopt).away.size() == 3);
  const JournalLine one = house.Do("away", {{"from", DaysAgo(-3)}, {"back", DaysAgo(-6)}, {"caves", Ids({4})}});
  CHECK(one.cave == 4);
  CHECK(away(4) == 5);
  CHECK(away(1) == 3);
  CHECK(house.book.Absences().size() == 2);
  house.Undo(all);
  CHECK(away(1) == 0);
  CHECK(away(4) == 3);
  CHECK(house.Refused("away", {{"from", DaysAgo(0)}, {"back", DaysAgo(0)}}).field == "back");
  CHECK(house.Refused("away", {{"from", DaysAgo(0)}, {"back", DaysAgo(-367)}}).field == "back");
  CHECK(house.Refused("away", {{"from", DaysAgo(0)}, {"back", DaysAgo(-2)}, {"caves", Ids({})}}).field == "caves");
  CHECK(house.Refused("away", {{"from", "soon"}, {"back", DaysAgo(-2)}}).field == "from");
}

TEST_CASE("keepers come and leave by their initials") {
  House house;
  CHECK(house.book.Keepers().empty());
  house.Do("keeper", {{"name", "IH"}});
  house.Do("keeper", {{"name", "TR"}});
  CHECK(house.book.Keepers() == std::vector<std::string>{"IH", "TR"});
  house.now += 1min;
  const JournalLine leaves = house.Do("keeper", {{"name", "IH"}, {"leaves", true}});
  CHECK(house.book.Keepers() == std::vector<std::string>{"TR"});
  CHECK_THAT(house.Refused("keeper", {{"name", "IH"}, {"leaves", true}}).what, Says("No keeper is called \"IH\"."));
  house.Undo(leaves);
  CHECK(house.book.Keepers().size() == 2);
  CHECK(house.Refused("keeper", {{"name", ""}}).field == "name");
  CHECK(house.Refused("keeper", {{"name", std::string(25, 'I')}}).field == "name");
}

TEST_CASE("two keepers share a round: what one takes later is taken from the other") {
  House house;
  const auto day = *DayFrom(DaysAgo(0));
  const auto share = [&](const char* by, json::array caves, json::array lines) {
    house.now += 1min;
    return house.Do("share", {{"day", DaysAgo(0)}, {"by", by}, {"caves", caves}, {"lines", lines}});
  };
  share("IH", Ids({1, 4}), json::array{"turn A1"});
  const JournalLine taken = share("TR", Ids({4}), json::array{});
  auto shares = house.book.SharesOn(day);
  REQUIRE(shares.size() == 2);
  CHECK(shares[0].caves == Walk{1});
  CHECK(shares[0].lines.contains("turn A1"));
  CHECK(shares[1].caves == Walk{4});
  CHECK(house.book.SharesOn(day + std::chrono::days{1}).empty());
  house.Undo(taken);
  CHECK(house.book.SharesOn(day).front().caves == Walk{1, 4});
  share("IH", Ids({}), json::array{});
  CHECK(house.book.SharesOn(day).empty());
  CHECK(house.Refused("share", {{"day", DaysAgo(0)}, {"by", ""}, {"caves", Ids({})}, {"lines", json::array{}}}).field ==
        "by");
}

TEST_CASE("the calendar has an address as long as it is open, and another each time it is opened") {
  House house;
  const auto feed = [&](bool open, const char* secret) {
    house.now += 1min;
    Beside beside;
    beside.secret = secret;
    auto judged = JudgeAct(house.book, json::serialize(house.Act("feed", {{"open", open}})), {}, house.now, beside);
    return house.Take(std::get<Judged>(std::move(judged)));
  };
  CHECK(house.book.FeedSecret().empty());
  feed(true, "aa");
  CHECK(house.book.FeedSecret() == "aa");
  const JournalLine shut = feed(false, "bb");
  CHECK(house.book.FeedSecret().empty());
  CHECK(shut.given.find("bb") == std::string::npos);
  feed(true, "cc");
  CHECK(house.book.FeedSecret() == "cc");
  CHECK(house.Refused("feed", {}).field == "open");
}

}  // namespace
}  // namespace rindwatch
