// A clock that was ahead and was set back: what was kept meanwhile stays in the file, and nobody is given it.
#include "daemon/store/record.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

constexpr std::int64_t kDay = 86'400'000, kMinute = 60'000;

// A day ahead for a minute: a reading and a line before, of that minute, and held after it; then set back.
struct AheadForAMinute {
  explicit AheadForAMinute(Rig& made) : rig(made), begun(made.clock.wall) {
    rig.Begin();
    Keep(begun, 1);
    rig.Append(MakeLine("before"));
    rig.clock.wall += kDay;
    Keep(begun + kDay, 2);
    rig.Append(MakeLine("a keeper's"));
    JournalLine alarm = MakeLine("an alarm");
    alarm.kind = "alarm";
    rig.Append(alarm, {MakeFact("alarm", 1, "change", begun + kDay, boost::json::object{{"id", "x"}})});
    REQUIRE(rig.Save({rig.Tick().position, rules::FromMillis(begun + kDay), 1, "from the wrong day"}));
    rig.clock.wall = begun + kMinute;
    Keep(begun + kMinute, 3, rules::TimeSource::kHeld);
    rig.OpenOnly();
    rig.store->SetBack(rules::FromMillis(begun + kMinute));
  }
  void Keep(std::int64_t at, std::int64_t milli, rules::TimeSource source = rules::TimeSource::kArrival) {
    rig.store->Keep(MakeBatch({MakeReading(1, at, milli, source)}));
  }
  std::vector<Committed> Inputs() {
    std::vector<Committed> inputs;
    rig.store->ReadInputs(0, std::nullopt, [&](const Committed& kept) { inputs.push_back(kept); });
    return inputs;
  }
  std::int64_t Milli(const Committed& kept) { return std::get<0>(kept.what).at(0).milli; }

  Rig& rig;
  const std::int64_t begun;
};

TEST_CASE(
    "what was kept while a clock was ahead is given to no start but for what was held after it was set back, and its "
    "lines as of the instant it was set back") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  AheadForAMinute house(rig);
  const auto inputs = house.Inputs();
  REQUIRE(inputs.size() == 5);
  CHECK(house.Milli(inputs[0]) == 1);
  CHECK(std::get<JournalLine>(inputs[1].what).id == "before");
  // As if the watch had ended with what bears a right time: nobody watched from then on until it was set back.
  CHECK(std::get<JournalLine>(inputs[2].what).kind == "stopped");
  CHECK(inputs[2].at == rules::FromMillis(house.begun));
  CHECK(std::get<JournalLine>(inputs[3].what).id == "a keeper's");
  CHECK(inputs[3].at == rules::FromMillis(house.begun + kMinute));
  // That bears a right time, and nobody judges it: it says how the air was.
  CHECK(house.Milli(inputs[4]) == 3);
  CHECK(inputs[4].at == rules::FromMillis(house.begun + kMinute));
  const auto last = rig.store->ReadLast();
  REQUIRE(last);
  CHECK(last->position == inputs[1].position);
  CHECK(last->at == rules::FromMillis(house.begun));
  CHECK_FALSE(rig.store->ReadSnapshot(1));
  const LastKnown known = rig.store->ReadLastKnown();
  REQUIRE(known.newest.size() == 1);
  CHECK(known.newest[0].second == rules::FromMillis(house.begun + kMinute));
  std::size_t alarms = 0, facts = 0;
  rig.store->ReadFacts([&](const JournalLine&, const Fact& fact) { ++facts, alarms += fact.subject_kind == "alarm"; });
  CHECK(alarms == 0);
  // Nor does the journal tell that it rang.
  for (const JournalLine& line : rig.store->ReadNewestLines(10)) CHECK(line.kind != "alarm");
  CHECK(rig.store->ReadNewestLines(10).size() == 2);
  // But it is in the file.
  CHECK(AskSql(rig.settings.path, "SELECT count(*) FROM reading") == "3");
  CHECK(AskSql(rig.settings.path, "SELECT count(*) FROM fact") == "1");
}

TEST_CASE("after a clock was set back what is kept goes on from there, and a replay reads it in that order") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  AheadForAMinute house(rig);
  rig.store->Start([&rig](Committed committed) { rig.inbox.push_back(std::move(committed)); });
  rig.clock.wall += kMinute;
  house.Keep(house.begun + 2 * kMinute, 4);
  CHECK(rig.Tick().at == rules::FromMillis(house.begun + 2 * kMinute));
  // The day that was said to have come before comes.
  rig.clock.wall = house.begun + kDay + kMinute;
  house.Keep(house.begun + kDay + kMinute, 5);
  rig.Tick();
  const auto drawn = rig.History(1, house.begun, house.begun + 2 * kDay, 1);
  std::vector<double> values;
  for (const Bucket& bucket : drawn) values.push_back(bucket.mean * 1000);
  CHECK(values == std::vector<double>{1, 3, 4, 5});
  rig.store.reset();
  const auto record = Record::Open(rig.settings.path);
  std::size_t alarms = 0, cares = 0;
  record->ReadLines("alarm", [&](const JournalLine&) { ++alarms; });
  record->ReadLines("care", [&](const JournalLine&) { ++cares; });
  CHECK(alarms == 0);
  CHECK(cares == 2);
  for (const std::int64_t since : {std::int64_t{0}, house.begun, house.begun + kMinute + 1, house.begun + kDay + 1}) {
    CAPTURE(since - house.begun);
    std::vector<std::int64_t> read;
    rules::Instant before{};
    record->ReadInputs(rules::FromMillis(since), [&](const Committed& kept) {
      CHECK(kept.at >= before);
      before = kept.at;
      if (kept.what.index() == 0) read.push_back(house.Milli(kept));
      return true;
    });
    REQUIRE_FALSE(read.empty());
    CHECK(read.back() == 5);
    CHECK(std::ranges::count(read, 4) == (since <= house.begun + 2 * kMinute ? 1 : 0));
    CHECK(std::ranges::count(read, 2) == 0);
  }
}

TEST_CASE("a clock that is set back twice leaves out both times and nothing between them") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  AheadForAMinute house(rig);
  rig.store->Start([&rig](Committed committed) { rig.inbox.push_back(std::move(committed)); });
  house.Keep(house.begun + kMinute, 4);
  rig.Tick();
  rig.clock.wall += kDay / 2;  // still before what the first step said
  house.Keep(rig.clock.wall, 6);
  rig.Tick();
  rig.OpenOnly();
  rig.store->SetBack(rules::FromMillis(house.begun + 2 * kMinute));
  std::vector<std::int64_t> read;
  for (const Committed& kept : house.Inputs()) {
    if (kept.what.index() == 0) read.push_back(house.Milli(kept));
  }
  CHECK(read == std::vector<std::int64_t>{1, 3, 4});
}

TEST_CASE("a clock that was set back although nothing was kept under a later time takes nothing away") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  rig.store->Keep(MakeBatch({MakeReading(1, rig.clock.wall, 1)}));
  rig.Tick();
  rig.OpenOnly();
  rig.store->SetBack(rules::FromMillis(rig.clock.wall));
  std::size_t count = 0;
  rig.store->ReadInputs(0, std::nullopt, [&](const Committed&) { ++count; });
  CHECK(count == 1);
  CHECK(AskSql(rig.settings.path, "SELECT count(*) FROM misdated") == "0");
}

}  // namespace
}  // namespace rindwatch
