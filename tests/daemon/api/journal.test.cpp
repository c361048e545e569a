// The pages of the journal, the newest first. Invented.
#include <boost/json.hpp>

#include "tests/catch.hpp"
#include "tests/daemon/api/small_house.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// What the watch wrote by a clock that was ahead has no row.
void WriteAhead(Household& house, int count) {
  for (int i = 0; i < count; ++i) {
    JournalLine line;
    line.id = "ahead " + std::to_string(i);
    line.kind = "alarm";
    line.at = house.Now() + 48h;
    line.body = R"({"alarm":"none","change":"raised"})";
    house.TheStore().Append(line, {}, [](const AppendResult&) {});
  }
  house.Settle();
}

// The texts of the notes of one page, and whether there are older ones.
std::pair<std::vector<std::string>, bool> Notes(const json::object& page) {
  std::vector<std::string> notes;
  for (const json::value& line : page.at("lines").as_array())
    if (line.at("kind") == "note") notes.emplace_back(line.at("text").as_string());
  return {notes, page.at("older").as_bool()};
}

}  // namespace

TEST_CASE("a page of the journal of which no line is shown does not end it: the one before is brought") {
  TempFolder folder;
  Household house(folder / "rind.db", kThursday);
  house.Begin();
  house.Do("note", {{"text", "Turned all."}});
  WriteAhead(house, 200);
  using Told = std::pair<std::vector<std::string>, bool>;
  CHECK(Notes(house.See("/api/journal")) == Told{{"Turned all."}, false});
  // Also behind a page that shows something.
  house.Do("note", {{"text", "Brushed."}});
  const json::object newest = house.See("/api/journal");
  CHECK(Notes(newest) == Told{{"Brushed."}, true});
  const auto first = newest.at("lines").as_array().front().at("position").to_number<std::int64_t>();
  CHECK(Notes(house.See("/api/journal?before=" + std::to_string(first))) == Told{{"Turned all."}, false});
}

TEST_CASE("the journal is paged, oldest first, and says whether there is more") {
  SmallHouse small;
  for (int n = 0; n < 70; ++n) small.house.Do("note", {{"text", std::to_string(n)}});
  const json::object newest = small.house.See("/api/journal");
  REQUIRE(List(newest, "lines").size() == 60);
  CHECK(newest.at("older").as_bool());
  CHECK(Text(List(newest, "lines").back().as_object(), "text") == "69");
  const auto first = List(newest, "lines").front().as_object().at("position").to_number<std::int64_t>();
  const json::object older = small.house.See("/api/journal?before=" + std::to_string(first));
  CHECK_FALSE(older.at("older").as_bool());
  CHECK(Text(List(older, "lines").back().as_object(), "text") == "9");
  CHECK(Text(List(older, "lines").front().as_object(), "kind") == "started");
  for (const char* wrong : {"x", "-1", "", "1.5"}) {
    CHECK(small.house.Get(std::string("/api/journal?before=") + wrong).status == 400);
  }
}

TEST_CASE("each kind of line tells what it needs") {
  SmallHouse small;
  small.Read(17.5, 92, 2h);
  const json::value alarm =
      Part(small.house.See("/api/round"), "head").at("alarms").as_array().front().as_object().at("id");
  json::object to = InCave(1);
  to["shelf"] = "A1";
  small.house.Do("take", {{"alarm", alarm}});
  small.house.Do("called", {{"alarm", alarm}, {"what", "door"}});
  small.house.Do("move", {{"wheels", Ids({4})}, {"to", to}});
  const json::object care = small.house.Do("care", {{"wheels", Ids({4})},
                                                    {"done", json::array{"turn"}},
                                                    {"skipped", json::array{"pat"}},
                                                    {"reason", "no time"},
                                                    {"keeper", "TR"}});
  small.house.Do("undo", {{"of", care.at("id")}});
  small.house.StepTo(small.house.Now() + 1min);
  small.house.Do("move", {{"wheels", Ids({4})}, {"to", InCave(2)}});
  small.house.Do("answer",
                 {{"wheels", Ids({10})}, {"start", "entered box"}, {"day", DaysAgo(1)}, {"move_to", InCave(2)}});
  small.house.Do("gone", {{"wheels", Ids({5})}, {"how", "eaten"}});
  small.house.Do("unhang", {{"probe", 1}});
  small.house.Do("cave", {{"cave", 2}, {"name", "Blue lid"}});

  const auto lines = List(small.house.See("/api/journal"), "lines");
  const auto last = [&](const char* kind) -> json::object {
    for (std::size_t n = lines.size(); n-- > 0;) {
      if (Text(lines[n].as_object(), "kind") == kind) return lines[n].as_object();
    }
    throw std::runtime_error(std::string("no line of the kind ") + kind);
  };
  CHECK(Text(Part(last("alarm"), "alarm"), "change") == "over");  // nothing judges where nothing hangs
  CHECK(last("alarm").at("count").to_number<int>() == 9);
  CHECK(Text(Part(last("take"), "alarm"), "kind") == "too warm");
  CHECK(Text(last("take"), "cave_name") == "Fridge");
  CHECK(Text(last("called"), "what") == "door");
  const json::object done = last("care");
  CHECK(Text(done, "place") == "A1");
  CHECK(Text(done, "keeper") == "TR");
  CHECK(Text(done, "reason") == "no time");
  CHECK(done.at("undone").as_bool());
  CHECK(Part(last("undo"), "of").at("done") == json::value(json::array{"turn"}));
  CHECK(Text(last("move"), "cave_name") == "Blue lid");
  CHECK_FALSE(last("move").contains("place"));
  CHECK(Text(last("answer"), "day") == DaysAgo(1));
  CHECK(Text(last("gone"), "what") == "eaten");
  CHECK(Text(last("unhang"), "topic") == "fridge/air");
  CHECK(Text(last("cave"), "text") == "Blue lid");
  CHECK(Text(last("probe"), "topic") == "fridge/air");
  CHECK_FALSE(last("started").contains("unwatched"));
}

}  // namespace rindwatch
