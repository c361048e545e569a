// An undo is an act that names another: wholly or for some wheels, before or after it arrives, itself undone or not.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// Whether the schedule of a wheel counts an act: the care's own rules decide, from what the book handed them.
bool ScheduleCounts(const Keeping& keeping, rules::WheelId wheel, rules::CareKind kind) {
  const auto schedule =
      rules::ScheduleAt(keeping.Wheel(wheel).History(), keeping.book.CalendarOf(std::nullopt), keeping.now);
  return std::ranges::any_of(schedule.lines, [&](const rules::CareLine& line) {
    return line.state == rules::CareState::kDone && std::ranges::find(line.kinds, kind) != line.kinds.end();
  });
}

// Two wheels in their box since two days: a wash is due.
struct Boxed : Keeping {
  Boxed() {
    Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 5), 2));
    now += 1h;
  }
  bool Washed(rules::WheelId wheel) const { return ScheduleCounts(*this, wheel, rules::CareKind::kWash); }
};

TEST_CASE("an undone care never was") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1, 2}, {"wash"}));
  CHECK(boxed.Washed(1));
  const auto undo = boxed.Do("undo", {{"of", wash.id}});
  CHECK(undo.wheels == std::vector<rules::WheelId>{1, 2});
  CHECK(undo.cave == 1);
  CHECK(boxed.book.IsUndone(wash.id));
  CHECK_FALSE(boxed.Washed(1));
  CHECK_FALSE(boxed.Washed(2));
}

TEST_CASE("an undo for some wheels leaves the act standing for the others") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1, 2}, {"wash"}));
  boxed.Do("undo", {{"of", wash.id}, {"wheels", Ids({2})}});
  CHECK(boxed.Washed(1));
  CHECK_FALSE(boxed.Washed(2));
  CHECK_FALSE(boxed.book.IsUndone(wash.id));
  CHECK_FALSE(boxed.book.IsUndone(wash.id, 1));
  CHECK(boxed.book.IsUndone(wash.id, 2));
}

TEST_CASE("an undone undo brings the act back") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1, 2}, {"wash"}));
  const auto undo = boxed.Do("undo", {{"of", wash.id}});
  const auto again = boxed.Do("undo", {{"of", undo.id}});
  CHECK_FALSE(boxed.book.IsUndone(wash.id));
  CHECK(boxed.Washed(1));
  SECTION("and an undo of that takes it away again") {
    boxed.Do("undo", {{"of", again.id}});
    CHECK(boxed.book.IsUndone(wash.id));
    CHECK_FALSE(boxed.Washed(1));
  }
}

TEST_CASE("an undo may be undone for one wheel") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1, 2}, {"wash"}));
  const auto undo = boxed.Do("undo", {{"of", wash.id}});
  boxed.Do("undo", {{"of", undo.id}, {"wheels", Ids({1})}});
  CHECK(boxed.Washed(1));
  CHECK_FALSE(boxed.Washed(2));
}

TEST_CASE("two undos of one act both hold: one of them undone changes nothing") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1}, {"wash"}));
  const auto first = boxed.Do("undo", {{"of", wash.id}});
  boxed.Do("undo", {{"of", wash.id}});
  boxed.Do("undo", {{"of", first.id}});
  CHECK(boxed.book.IsUndone(wash.id));
  CHECK_FALSE(boxed.Washed(1));
}

// The phone's queue may be sent in any order. A care, its undo and the undo of that give the same book however they
// arrive.
TEST_CASE("an undo that arrives first holds, in every order of arriving") {
  const bool undone_again = GENERATE(false, true);
  Boxed boxed;
  std::vector<json::object> acts;
  json::object wash = boxed.Act("care", Care({1, 2}, {"wash"}));
  json::object undo = boxed.Act("undo", {{"of", wash.at("id")}});
  json::object again = boxed.Act("undo", {{"of", undo.at("id")}});
  acts = {wash, undo};
  if (undone_again) acts.push_back(again);
  std::vector<std::size_t> order(acts.size());
  for (std::size_t n = 0; n < order.size(); ++n) order[n] = n;
  const Boxed before = boxed;
  do {
    Boxed arriving = before;
    for (const std::size_t n : order) arriving.Do(acts[n]);
    const std::string id(wash.at("id").as_string());
    if (arriving.book.IsUndone(id) == undone_again) FAIL_CHECK("the book, arriving as " << order[0] << order[1]);
    if (arriving.Washed(1) != undone_again) FAIL_CHECK("the schedule, arriving as " << order[0] << order[1]);
  } while (std::ranges::next_permutation(order).found);
  CHECK(order.front() == 0);
}

TEST_CASE("an undo names another act by its id, and wheels or none") {
  Boxed boxed;
  const auto refused = [&](json::object fields) { return boxed.Refused("undo", std::move(fields)).field; };
  CHECK(refused({}) == "of");
  CHECK(refused({{"of", "7"}}) == "of");
  CHECK(refused({{"id", IdOf(500)}, {"of", IdOf(500)}}) == "of");
  CHECK(refused({{"of", IdOf(1)}, {"wheels", Ids({})}}) == "wheels");
  CHECK(refused({{"of", IdOf(1)}, {"wheels", json::array{"all"}}}) == "wheels");
  CHECK(refused({{"of", IdOf(999)}}).empty());  // it may still be on its way
}

TEST_CASE("wheels that entered by mistake leave, all or some, and come back") {
  Boxed boxed;
  const auto enter = boxed.lines.front();
  boxed.Do("undo", {{"of", enter.id}, {"wheels", Ids({2})}});
  CHECK(boxed.book.Wheel(1) != nullptr);
  CHECK(boxed.book.Wheel(2) == nullptr);
  const auto rest = boxed.Do("undo", {{"of", enter.id}});
  CHECK(boxed.book.Wheels().empty());
  CHECK(boxed.book.GoneCount() == 0);
  boxed.Do("undo", {{"of", rest.id}});
  CHECK(boxed.book.Wheels().size() == 1);
}

TEST_CASE("a move, a leaving, a start and a road that are undone never were") {
  Boxed boxed;
  boxed.now += 1h;
  const auto move = boxed.Do("move", {{"wheels", Ids({1})}, {"to", NewCave("room")}});
  CHECK(boxed.book.PlaceOf(boxed.Wheel(1)).cave == 2);
  boxed.Do("undo", {{"of", move.id}});
  CHECK(boxed.book.PlaceOf(boxed.Wheel(1)).cave == 1);
  CHECK(boxed.book.Caves().size() == 1);

  const auto gone = boxed.Do("gone", {{"wheels", Ids({1, 2})}, {"how", "eaten"}});
  CHECK(boxed.book.Wheels().empty());
  boxed.Do("undo", {{"of", gone.id}, {"wheels", Ids({2})}});
  CHECK(boxed.book.Wheels().size() == 1);
  CHECK_FALSE(boxed.Wheel(2).History().gone);
  CHECK(boxed.Wheel(1).History().gone);
}

TEST_CASE("limits and names that are undone give way to what was before") {
  Boxed boxed;
  const auto first = boxed.Do("limits", {{"cave", 1}, {"temperature", {{"low", 9}, {"high", 11}}}});
  boxed.now += 1min;
  const auto second = boxed.Do("limits", {{"cave", 1}, {"temperature", {{"low", 8}, {"high", 10}}}});
  const auto name = boxed.Do("cave", {{"cave", 1}, {"name", "Blue lid"}});
  const auto high = [&] { return boxed.book.Cave(1)->limits_now.temperature->high; };
  CHECK(high() == Approx(10));
  boxed.Do("undo", {{"of", second.id}});
  CHECK(high() == Approx(11));
  boxed.Do("undo", {{"of", first.id}});
  CHECK_FALSE(boxed.book.Cave(1)->limits_now.temperature);
  CHECK(boxed.book.Cave(1)->name == "Blue lid");
  boxed.Do("undo", {{"of", name.id}});
  CHECK(boxed.book.Cave(1)->name == "Box 1");
}

TEST_CASE("what an alarm was can be taken back") {
  Boxed boxed;
  boxed.Do("called", {{"alarm", "a"}, {"what", "door"}});
  boxed.now += 1min;
  const auto second = boxed.Do("called", {{"alarm", "a"}, {"what", "plant"}});
  boxed.Do("undo", {{"of", second.id}});
  CHECK(*boxed.book.CalledAs("a") == "door");
}

// ---- what the engine hears ----

template <typename Kind>
std::vector<Kind> Heard(const Keeping& keeping, const JournalLine& line) {
  std::vector<Kind> heard;
  for (const rules::Input& input : keeping.book.InputsOf(line, FactsOf(line))) {
    if (const auto* given = std::get_if<Kind>(&input)) heard.push_back(*given);
  }
  return heard;
}

TEST_CASE("the watch hears of a probe whose hanging is undone, and again when that is") {
  Keeping keeping;
  const auto hung = keeping.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  REQUIRE(Heard<rules::ChannelHung>(keeping, hung).size() == 2);
  CHECK(Heard<rules::ChannelHung>(keeping, hung).front().cave == 1);
  const auto undo = keeping.Do("undo", {{"of", hung.id}});
  REQUIRE(Heard<rules::ChannelHung>(keeping, undo).size() == 2);
  CHECK_FALSE(Heard<rules::ChannelHung>(keeping, undo).front().cave);
  const auto again = keeping.Do("undo", {{"of", undo.id}});
  REQUIRE(Heard<rules::ChannelHung>(keeping, again).size() == 2);
  CHECK(Heard<rules::ChannelHung>(keeping, again).front().cave == 1);
}

TEST_CASE("the watch hears of limits whose typing is undone") {
  Boxed boxed;
  const auto limits = boxed.Do("limits", {{"cave", 1}, {"temperature", {{"low", 9}, {"high", 11}}}});
  CHECK(Heard<rules::CaveGiven>(boxed, limits).front().temperature_limit);
  const auto undo = boxed.Do("undo", {{"of", limits.id}});
  REQUIRE(Heard<rules::CaveGiven>(boxed, undo).size() == 1);
  CHECK_FALSE(Heard<rules::CaveGiven>(boxed, undo).front().temperature_limit);
}

TEST_CASE(
    "the watch hears of wheels whose entering, move or leaving is undone, and of a care that somebody was there") {
  Boxed boxed;
  const auto wash = boxed.Do("care", Care({1, 2}, {"wash"}));
  CHECK(Heard<rules::WheelGiven>(boxed, wash).empty());
  CHECK(Heard<rules::KeeperTended>(boxed, wash).size() == 1);
  boxed.now += 1min;
  const auto move = boxed.Do("move", {{"wheels", Ids({1})}, {"to", NewCave("room")}});
  REQUIRE(Heard<rules::WheelGiven>(boxed, move).size() == 1);
  CHECK(Heard<rules::WheelGiven>(boxed, move).front().cave == 2);
  CHECK(Heard<rules::WheelGiven>(boxed, move).front().history.acts.empty());
  const auto undo = boxed.Do("undo", {{"of", move.id}});
  REQUIRE(Heard<rules::WheelGiven>(boxed, undo).size() == 1);
  CHECK(Heard<rules::WheelGiven>(boxed, undo).front().cave == 1);
  const auto gone = boxed.Do("gone", {{"wheels", Ids({2})}, {"how", "sold"}});
  CHECK_FALSE(Heard<rules::WheelGiven>(boxed, gone).front().cave);
  const auto back = boxed.Do("undo", {{"of", gone.id}});
  CHECK(Heard<rules::WheelGiven>(boxed, back).front().cave == 1);
}

}  // namespace
}  // namespace rindwatch
