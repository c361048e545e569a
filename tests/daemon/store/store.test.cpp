#include "daemon/store/store.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using sensors::Kept;

bool SameLine(const JournalLine& a, const JournalLine& b) {
  return a.position == b.position && a.id == b.id && a.kind == b.kind && a.keeper == b.keeper && a.cave == b.cave &&
         a.wheels == b.wheels && a.at == b.at && a.tapped_at == b.tapped_at && a.said_at == b.said_at &&
         a.sent_at == b.sent_at && a.received_at == b.received_at && a.late_entry == b.late_entry && a.body == b.body &&
         a.given == b.given && a.answer == b.answer;
}

TEST_CASE("what is kept reaches the loop once, in order, and is read back the same after a restart") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const auto first = MakeBatch({MakeReading(1, 1'000, 12'500), MakeReading(2, 1'000, 85'000)}, "box/a", 77);
  CHECK(rig.store->Keep(first).kept);
  JournalLine line = MakeLine("a1", R"({"turn":true})", {4, 3, 4});
  line.said_at = rules::FromMillis(5);
  line.sent_at = rules::FromMillis(6);
  line.late_entry = true;
  line.given = R"({"number":9})";
  const AppendResult written = rig.Append(line, {MakeFact("wheel", 3, "place", 10, "shelf 2")});
  CHECK(written.kind == AppendResult::Kind::kWritten);
  CHECK(written.answer == line.answer);
  rig.clock.wall += 60'000;
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 2'000, -250, rules::TimeSource::kBacklog, 0)})).kept);
  rig.Tick();

  const auto inbox = rig.inbox;
  REQUIRE(inbox.size() == 3);
  CHECK(std::get<0>(inbox[0].what) == first.readings);
  line.position = inbox[1].position;
  CHECK(SameLine(std::get<1>(inbox[1].what), line));
  CHECK(inbox[0].position < inbox[1].position);
  CHECK(inbox[1].position < inbox[2].position);
  CHECK(inbox[2].at - inbox[1].at == rules::Millis{60'000});

  rig.OpenOnly();
  std::vector<Committed> read;
  const auto gather = [&](const Committed& kept) { read.push_back(kept); };
  SECTION("all of it") {
    rig.store->ReadInputs(0, std::nullopt, gather);
    REQUIRE(read.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
      CHECK(read[i].position == inbox[i].position);
      CHECK(read[i].at == inbox[i].at);
    }
    CHECK(std::get<0>(read[0].what) == std::get<0>(inbox[0].what));
    CHECK(SameLine(std::get<1>(read[1].what), std::get<1>(inbox[1].what)));
    CHECK(std::get<0>(read[2].what) == std::get<0>(inbox[2].what));
  }
  SECTION("after a position") {
    rig.store->ReadInputs(inbox[0].position, std::nullopt, gather);
    REQUIRE(read.size() == 2);
    CHECK(read[0].position == inbox[1].position);
  }
  SECTION("since an instant") {
    rig.store->ReadInputs(0, inbox[2].at, gather);
    REQUIRE(read.size() == 1);
    CHECK(read[0].position == inbox[2].position);
    rig.store->ReadInputs(0, inbox[2].at + rules::Millis{1}, gather);
    CHECK(read.size() == 1);
    rig.store->ReadInputs(0, inbox[0].at, gather);
    CHECK(read.size() == 4);
  }
  SECTION("the newest") {
    const auto last = rig.store->ReadLast();
    REQUIRE(last);
    CHECK(last->position == inbox[2].position);
    CHECK(std::get<0>(last->what).size() == 1);
    const auto lines = rig.store->ReadNewestLines(5);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].id == "a1");
  }
  SECTION("what a start must know") {
    const LastKnown known = rig.store->ReadLastKnown();
    CHECK(known.newest == std::vector<std::pair<rules::ChannelId, rules::Instant>>{{1, rules::FromMillis(2'000)},
                                                                                   {2, rules::FromMillis(1'000)}});
    CHECK(known.fingerprints == std::vector<std::pair<std::string, std::uint64_t>>{{"box/a", 77}});
  }
  SECTION("facts with their lines") {
    int count = 0;
    rig.store->ReadFacts([&](const JournalLine& of, const Fact& fact) {
      ++count;
      CHECK(of.id == "a1");
      CHECK(of.wheels == std::vector<rules::WheelId>{4, 3, 4});
      CHECK(of.body.empty());
      CHECK(fact.subject_kind == "wheel");
      CHECK(fact.subject == 3);
      CHECK(fact.what == "place");
      CHECK(fact.from == rules::FromMillis(10));
      CHECK(fact.value == "shelf 2");
    });
    CHECK(count == 1);
  }
  SECTION("positions go on") {
    rig.store->Start([&](Committed committed) { rig.inbox.push_back(std::move(committed)); });
    CHECK(rig.store->Keep(first).kept);
    rig.Tick();
    REQUIRE(rig.inbox.size() == 1);
    CHECK(rig.inbox[0].position > inbox[2].position);
  }
}

TEST_CASE("an empty store has nothing to tell") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.OpenOnly();
  CHECK_FALSE(rig.store->ReadLast());
  CHECK_FALSE(rig.store->ReadSnapshot(1));
  CHECK(rig.store->ReadLastKnown().newest.empty());
  CHECK(rig.store->ReadNewestLines(3).empty());
  rig.store->ReadInputs(0, rules::FromMillis(0), [](const Committed&) { FAIL("nothing was kept"); });
  rig.store->Start([&](Committed committed) { rig.inbox.push_back(std::move(committed)); });
  CHECK(rig.Tick().position == 0);
  CHECK(rig.History(1, 0, 1'000, 10).empty());
  CHECK(rig.Page(0, 10).empty());
}

TEST_CASE("an act counts once, however often it is sent") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const AppendResult first = rig.Append(MakeLine("a1", R"({"turn":1})"));
  SECTION("the same id with the same body gets the first answer") {
    JournalLine again = MakeLine("a1", R"({"turn":1})");
    again.answer = "another";
    const AppendResult repeat = rig.Append(again, {MakeFact("wheel", 1, "place", 0, 1)});
    CHECK(repeat.kind == AppendResult::Kind::kKnown);
    CHECK(repeat.answer == first.answer);
    CHECK(repeat.position == first.position);
  }
  SECTION("the same id with another body changes nothing") {
    const AppendResult other = rig.Append(MakeLine("a1", R"({"turn":2})"));
    CHECK(other.kind == AppendResult::Kind::kConflict);
    CHECK(rig.Find("a1")->body == R"({"turn":1})");
  }
  SECTION("two of one id in the same breath") {
    int written = 0, known = 0;
    for (int i = 0; i < 2; ++i)
      rig.store->Append(MakeLine("b1"), {}, [&](const AppendResult& result) {
        written += result.kind == AppendResult::Kind::kWritten;
        known += result.kind == AppendResult::Kind::kKnown;
      });
    rig.loop.RunUntil([&] { return written + known == 2; });
    CHECK(written == 1);
  }
  rig.Tick();
  CHECK(rig.inbox.front().position == first.position);
  CHECK_FALSE(rig.Find("unknown"));
  CHECK(AskSql(rig.settings.path, "SELECT count(*) FROM fact") == "0");
}

TEST_CASE("a line reaches the loop before the answer to it") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  std::size_t told_before = 0;
  bool done = false;
  rig.store->Append(MakeLine("a1"), {}, [&](const AppendResult&) {
    told_before = rig.inbox.size();
    done = true;
  });
  rig.loop.RunUntil([&] { return done; });
  CHECK(told_before == 1);
}

TEST_CASE("the instant of what is kept never goes back, not even over a restart") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  rig.store->Keep(MakeBatch({MakeReading(1, 1, 1)}));
  const rules::Instant first = rig.Tick().at;
  rig.clock.wall -= 3'600'000;
  rig.store->Keep(MakeBatch({MakeReading(1, 2, 1)}));
  CHECK(rig.Tick().at == first);
  rig.Reopen();
  rig.store->Keep(MakeBatch({MakeReading(1, 3, 1)}));
  rig.Tick();
  CHECK(rig.inbox.at(0).at == first);
}

TEST_CASE("the newest three snapshots stay and the newest of its own rules is read") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  for (std::int64_t position = 1; position <= 5; ++position)
    CHECK(rig.Save({position, rules::FromMillis(position * 10), position == 5 ? 2 : 1, std::to_string(position)}));
  CHECK(rig.Save({5, rules::FromMillis(51), 2, "five again"}));
  CHECK(AskSql(rig.settings.path, "SELECT count(*) FROM snapshot") == "3");
  rig.OpenOnly();
  CHECK(rig.store->ReadSnapshot(1)->text == "4");
  CHECK(rig.store->ReadSnapshot(2)->text == "five again");
  CHECK(rig.store->ReadSnapshot(2)->at == rules::FromMillis(51));
  CHECK_FALSE(rig.store->ReadSnapshot(3));
}

TEST_CASE("the newest reading of each channel is known after a snapshot too") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  rig.store->Keep(MakeBatch({MakeReading(1, 500, 1), MakeReading(2, 400, 1)}));
  rig.Save({2, rules::FromMillis(0), 1, "state"});
  rig.store->Keep(MakeBatch({MakeReading(1, 300, 1, rules::TimeSource::kOwn), MakeReading(3, 9, 1)}));
  rig.store->Keep(MakeBatch(
      {MakeReading(2, 900, 1, rules::TimeSource::kArrival, static_cast<rules::Marks>(rules::Mark::kRepeat))}));
  // Closed in steps, and as it is found when the process just ended.
  const bool closed = GENERATE(true, false);
  if (!closed) {
    for (const std::string suffix : {"", "-wal"})
      std::filesystem::copy_file(rig.settings.path + suffix, folder / "found.db" + suffix);
    rig.settings.path = folder / "found.db";
  }
  rig.OpenOnly();
  CHECK(rig.store->ReadLastKnown().newest ==
        std::vector<std::pair<rules::ChannelId, rules::Instant>>{
            {1, rules::FromMillis(500)}, {2, rules::FromMillis(400)}, {3, rules::FromMillis(9)}});
}

TEST_CASE("history gathers a channel's readings into the spans that hold any") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const auto repeat = static_cast<rules::Marks>(rules::Mark::kRepeat);
  rig.store->Keep(MakeBatch({MakeReading(1, 999, 99'000), MakeReading(1, 1'000, 10'000), MakeReading(2, 1'000, 1)}));
  rig.store->Keep(MakeBatch({MakeReading(1, 1'099, 13'000), MakeReading(1, 1'050, 10'000)}));
  rig.store->Keep(MakeBatch({MakeReading(1, 1'060, 50'000, rules::TimeSource::kArrival, repeat)}));
  rig.store->Keep(MakeBatch({MakeReading(1, 1'300, -500), MakeReading(1, 1'400, 99'000)}));
  const auto buckets = rig.History(1, 1'000, 1'400, 100);
  REQUIRE(buckets.size() == 2);
  CHECK(buckets[0].from == rules::FromMillis(1'000));
  CHECK(buckets[0].count == 3);
  CHECK(buckets[0].min == Approx(10));
  CHECK(buckets[0].max == Approx(13));
  CHECK(buckets[0].mean == Approx(11));
  CHECK(buckets[1].from == rules::FromMillis(1'300));
  CHECK(buckets[1].count == 1);
  CHECK(buckets[1].mean == Approx(-0.5));
  CHECK(rig.History(1, 1'400, 1'000, 100).empty());
  CHECK(rig.History(1, 1'000, 1'400, 0).empty());
  CHECK(rig.History(7, 1'000, 1'400, 100).empty());
}

TEST_CASE("the journal is paged from the newest back") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  for (int i = 1; i <= 5; ++i) rig.Append(MakeLine("a" + std::to_string(i), "{}", {i}));
  const auto newest = rig.Page(0, 2);
  REQUIRE(newest.size() == 2);
  CHECK(newest[0].id == "a5");
  CHECK(newest[1].id == "a4");
  CHECK(newest[1].wheels == std::vector<rules::WheelId>{4});
  CHECK(newest[1].answer == MakeLine("a4").answer);
  const auto older = rig.Page(newest[1].position, 10);
  REQUIRE(older.size() == 3);
  CHECK(older[2].id == "a1");
}

TEST_CASE("a reading that names its own time is kept once") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const auto own = rules::TimeSource::kOwn;
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 10, 500, own)})).outcomes == std::vector{Kept::kNew});
  rig.Tick();
  rig.inbox.clear();
  CHECK(rig.store
            ->Keep(MakeBatch({MakeReading(1, 10, 500, own), MakeReading(1, 10, 501, own), MakeReading(1, 11, 500, own),
                              MakeReading(1, 11, 500, own), MakeReading(2, 10, 7, own), MakeReading(1, 10, 500)}))
            .outcomes == std::vector{Kept::kSame, Kept::kConflict, Kept::kNew, Kept::kSame, Kept::kNew, Kept::kNew});
  rig.Tick();
  REQUIRE(rig.inbox.size() == 1);
  CHECK(std::get<0>(rig.inbox[0].what).size() == 3);
  rig.inbox.clear();
  CHECK(rig.store->Keep(MakeBatch({MakeReading(1, 10, 500, own)})).kept);
  rig.Tick();
  CHECK(rig.inbox.empty());
}

}  // namespace
}  // namespace rindwatch
