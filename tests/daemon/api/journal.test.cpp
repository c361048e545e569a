// The pages of the journal, the newest first. Invented.
#include <boost/json.hpp>

#include "tests/catch.hpp"
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

}  // namespace rindwatch
