#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// The book's part: here each wheel of a line is put at the place that the body names.
std::vector<Fact> FactsOf(const JournalLine& line) {
  std::vector<Fact> facts;
  for (const rules::WheelId wheel : line.wheels)
    facts.push_back({"wheel", wheel, "place", line.at, boost::json::object{{"shelf", line.body}, {"turn", 0.5}}});
  return facts;
}

struct Cellar {
  Cellar() {
    rig.Begin();
    rig.store->Keep(MakeBatch({MakeReading(1, 1, 1), MakeReading(2, 1, 1)}));
    for (const std::string id : {"a1", "a2"}) {
      const JournalLine line = MakeLine(id, "top", {7, 8});
      rig.Append(line, FactsOf(line));
    }
  }
  // Past the triggers, as only a stranger would.
  void Break(const std::string& sql) {
    for (const std::string trigger :
         {"act_wheel_is_kept", "act_wheel_stays", "fact_is_kept", "fact_stays", "journal_is_kept", "journal_stays"})
      RunSql(rig.settings.path, "DROP TRIGGER " + trigger);
    CHECK(RunSql(rig.settings.path, sql).empty());
  }
  std::vector<std::string> Faults() { return CheckDatabase(rig.settings.path, FactsOf).faults; }

  TempFolder folder;
  Rig rig{folder / "rind.db"};
};

TEST_CASE("a sound database passes, beside a running daemon and without one") {
  Cellar cellar;
  if (GENERATE(true, false)) cellar.rig.store.reset();
  const CheckReport report = CheckDatabase(cellar.rig.settings.path, FactsOf);
  CHECK(report.faults.empty());
  CHECK(report.lines == 2);
  CHECK(report.facts == 4);
  CHECK(report.readings == 2);
}

TEST_CASE("each difference between the journal and its sums is one sentence") {
  Cellar cellar;
  SECTION("a fact is missing") {
    cellar.Break("DELETE FROM fact WHERE position = 3 AND ordinal = 1");
    REQUIRE(cellar.Faults().size() == 1);
    CHECK_THAT(cellar.Faults()[0], Says("Journal line 3 (care \"a1\") says wheel 8 place from 2023-11-14") &&
                                       Says("the table fact does not hold it."));
  }
  SECTION("a fact is another") {
    cellar.Break("UPDATE fact SET value = '5' WHERE position = 4 AND ordinal = 0");
    REQUIRE(cellar.Faults().size() == 1);
    CHECK_THAT(cellar.Faults()[0], Says("Journal line 4") && Says("the table fact holds wheel 7 place"));
  }
  SECTION("a fact too many") {
    cellar.Break("INSERT INTO fact VALUES (4, 2, 'cave', 1, 'limit', 0, '12')");
    REQUIRE(cellar.Faults().size() == 1);
    CHECK_THAT(cellar.Faults()[0], Says("does not say cave 1 limit"));
  }
  SECTION("a wheel is missing") {
    cellar.Break("DELETE FROM act_wheel WHERE position = 3 AND wheel = 8");
    REQUIRE(cellar.Faults().size() == 1);
    CHECK_THAT(cellar.Faults()[0], Says("names the wheels [7,8], the table act_wheel holds [7]."));
  }
  SECTION("a line is gone") {
    cellar.Break("DELETE FROM journal WHERE position = 4");
    REQUIRE(cellar.Faults().size() == 4);
    CHECK_THAT(cellar.Faults()[0], Says("names a journal line that is not there."));
  }
  SECTION("a line that the book cannot read") {
    const auto faults = CheckDatabase(cellar.rig.settings.path, [](const JournalLine& line) -> std::vector<Fact> {
                          if (line.id == "a2") throw std::runtime_error("its body names no shelf.");
                          return FactsOf(line);
                        }).faults;
    REQUIRE(faults.size() == 1);
    CHECK(faults[0] == "Journal line 4 cannot be read: its body names no shelf.");
  }
}

TEST_CASE("what cannot be checked says why") {
  TempFolder folder;
  CHECK_THROWS_WITH(CheckDatabase(folder / "none.db", FactsOf), Says("does not exist"));
  RunSql(folder / "other.db", "CREATE TABLE recipes (name TEXT)");
  CHECK_THROWS_WITH(CheckDatabase(folder / "other.db", FactsOf), Says("another program"));
  RunSql(folder / "empty.db", "VACUUM");
  CHECK_THROWS_WITH(CheckDatabase(folder / "empty.db", FactsOf), Says("is empty"));
}

}  // namespace
}  // namespace rindwatch
