// What the rules of before raised and those of now do not see: a start ends it, once, and says why. As after an update.
#include "daemon/api/alarm_past.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/morning/past.hpp"
#include "daemon/replay/rang.hpp"
#include "daemon/replay/replay.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"
#include "tests/daemon/watch/day_and_a_half.hpp"

namespace rindwatch {
namespace {

using namespace testing;

const std::string kUnseen = "too-dry-1-of-before";

// Readings in band each ten minutes.
void Reads(Household& house, rules::Millis span) {
  const rules::Instant until = house.Now() + span;
  while (house.Now() < until) {
    house.StepTo(house.Now() + 10min);
    house.Reads(12.5, 85);
  }
}

// A line of an alarm that the rules of now would not have raised, as other rules had written it.
void RaisedBefore(Household& house) {
  rules::Alarm alarm;
  alarm.id = kUnseen;
  alarm.kind = rules::AlarmKind::kTooDry;
  alarm.severity = rules::Severity::kAct;
  alarm.cave = 1;
  alarm.since = alarm.raised = house.Now();
  alarm.why = rules::Why::kOneProbe;
  const rules::Decision raised{rules::Decision::Change::kRaised, house.Now(), alarm};
  JournalLine line = OwnLine("alarm", LineIdOf(raised), RecordOf(raised), raised.at);
  line.cave = alarm.cave;
  auto facts = FactsOf(line);
  house.TheStore().Append(line, std::move(facts), [](const AppendResult&) {});
  house.Settle();
}

// A fridge in band, and that alarm in its journal.
void Keep(Household& house) {
  house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  house.Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  Reads(house, 3h);
  RaisedBefore(house);
  Reads(house, 2h);
}

struct End {
  rules::Instant at;
  json::object body;
};
std::vector<End> EndsOf(Household& house, const std::string& alarm) {
  std::vector<End> ends;
  const std::vector<JournalLine> journal = house.Journal();
  for (const JournalLine& line : journal) {
    if (line.kind != "alarm") continue;
    const json::object body = json::parse(line.body).as_object();
    if (fields::Text(body, "alarm") == alarm && body.at("change") == "over") ends.push_back({line.at, body});
  }
  return ends;
}

TEST_CASE("what stands in the journal and the rules of now do not see is ended by a start, once") {
  for (const bool with_state : {true, false}) {
    CAPTURE(with_state);  // that these rules saved
    TempFolder folder;
    Living living(folder / "rind.db");
    Keep(living.House());
    CHECK_FALSE(PastAlarm(living.House().TheBook(), kUnseen)->over);
    if (!with_state) REQUIRE(RunSql(folder / "rind.db", "DELETE FROM snapshot") == "");
    living.Kill(3min);
    living.Kill(3min);
    const auto ends = EndsOf(living.House(), kUnseen);
    REQUIRE(ends.size() == 1);
    CHECK(ends[0].at == kThursday + 5h + 3min);
    CHECK(ends[0].body.at("over") == ToMillis(ends[0].at));
    CHECK(ends[0].body.at("unseen") == true);
    CHECK(ends[0].body.at("why") == "one probe");  // by which it had rung
    const Book& book = living.House().TheBook();
    CHECK(PastAlarm(book, kUnseen)->over == ends[0].at);
    CHECK(EndedUnseen(book, kUnseen));
    CHECK(RangIn(book, kThursday, living.House().Now(), {})[0].over == ends[0].at);
  }
}

TEST_CASE("what the rules of now see too, but date otherwise, goes on under that name and is told once") {
  TempFolder folder;
  Living living(folder / "rind.db");
  Keep(living.House());
  for (int i = 0; i < 30; ++i) {
    living.House().StepTo(living.House().Now() + 10min);
    living.House().Reads(12.5, 70);
  }
  const std::string dry = AlarmOf(living.House(), rules::AlarmKind::kTooDry);
  REQUIRE(dry != kUnseen);
  living.Kill();
  const auto ends = EndsOf(living.House(), kUnseen);
  REQUIRE(ends.size() == 1);
  CHECK(fields::Text(ends[0].body, "told_by") == dry);
  CHECK(EndsOf(living.House(), dry).empty());
  // Counted once.
  const std::vector<Rung> rang = RangIn(living.House().TheBook(), kThursday, living.House().Now(), {});
  CHECK(std::ranges::count_if(
            rang, [](const Rung& rung) { return rung.kind == rules::AlarmKind::kTooDry && !rung.folded; }) == 1);
}

// As rules of before had named it, and nothing is left of their memory.
void CallItOtherwise(const std::string& database, const std::string& alarm, const std::string& before) {
  const auto of = [&](std::string column) {
    return column + " = replace(" + column + ", '" + alarm + "', '" + before + "')";
  };
  REQUIRE(RunSql(database,
                 "DROP TRIGGER journal_is_kept; DROP TRIGGER fact_is_kept; DELETE FROM snapshot; UPDATE journal SET " +
                     of("id") + ", " + of("body") + "; UPDATE fact SET " + of("value")) == "");
}

// As if other rules had written it, which never came to its act, and nothing is left of their memory.
void WrittenOtherwise(const std::string& database, const std::string& alarm) {
  const std::string its = " WHERE kind = 'alarm' AND body LIKE '%" + alarm + "%' AND body LIKE '%raised severity%'";
  const std::string positions = " WHERE position IN (SELECT position FROM journal" + its + "); ";
  REQUIRE(RunSql(database,
                 "DROP TRIGGER journal_is_kept; DROP TRIGGER journal_stays; DROP TRIGGER fact_stays; DROP TRIGGER "
                 "act_wheel_stays; DELETE FROM snapshot; DELETE FROM fact" +
                     positions + "DELETE FROM act_wheel" + positions + "DELETE FROM journal" + its +
                     "; UPDATE journal SET body = replace(body, '\"rules\":', '\"rules\":9') WHERE kind = 'started'") ==
          "");
}

TEST_CASE("a start with new rules writes nothing into the time of the old ones about what was over under them") {
  TempFolder folder;
  Living living(folder / "rind.db");
  living.House().Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  living.House().Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  Reads(living.House(), 3h);
  living.House().StepTo(living.House().Now() + 6h);
  const std::string silent = AlarmOf(living.House(), rules::AlarmKind::kProbeSilent);
  living.House().Do("take", {{"alarm", silent}});
  Reads(living.House(), 3h);
  const auto acts = [&] {
    const std::vector<JournalLine> journal = living.House().Journal();
    return std::ranges::count_if(journal, [](const JournalLine& line) {
      return line.kind == "alarm" && line.body.find("raised severity") != std::string::npos;
    });
  };
  REQUIRE(acts() == 1);
  REQUIRE(EndsOf(living.House(), silent).size() == 1);
  WrittenOtherwise(folder / "rind.db", silent);
  REQUIRE(acts() == 0);
  living.Kill(3min);
  CHECK(acts() == 0);
  CHECK(EndsOf(living.House(), silent).size() == 1);
}

const rules::Alarm* Standing(const std::vector<rules::Alarm>& alarms, rules::AlarmKind kind) {
  const auto found =
      std::ranges::find_if(alarms, [kind](const rules::Alarm& alarm) { return alarm.kind == kind && !alarm.over; });
  return found == alarms.end() ? nullptr : &*found;
}

TEST_CASE("what a keeper took goes on taken under the name that the rules of now give it, and asks nobody anew") {
  for (const bool took : {true, false}) {
    CAPTURE(took);
    TempFolder folder;
    Living living(folder / "rind.db");
    living.House().Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    living.House().Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
    Reads(living.House(), 3h);
    for (int i = 0; i < 30; ++i) {
      living.House().StepTo(living.House().Now() + 10min);
      living.House().Reads(12.5, 70);
    }
    const std::string dry = AlarmOf(living.House(), rules::AlarmKind::kTooDry);
    if (took) living.House().Do("take", {{"alarm", dry}});
    CallItOtherwise(folder / "rind.db", dry, "too-dry-of-before");
    living.Kill(3min);
    const std::vector<rules::Alarm> alarms = living.House().TheWatch().Engine().Alarms();
    const rules::Alarm* stands = Standing(alarms, rules::AlarmKind::kTooDry);
    REQUIRE(stands);
    CHECK(stands->id == dry);
    CHECK(stands->taken.has_value() == took);
    CHECK(stands->Rings() == !took);
    const std::vector<JournalLine> journal = living.House().Journal();
    const auto follows = [&](const JournalLine& line) {
      return line.kind == "take" && json::parse(line.body).as_object().contains("after");
    };
    CHECK(std::ranges::count_if(journal, follows) == (took ? 1 : 0));
    // A second start says it no second time.
    living.Kill(3min);
    const std::vector<JournalLine> later = living.House().Journal();
    CHECK(std::ranges::count_if(later, follows) == (took ? 1 : 0));
  }
}

TEST_CASE("page, journal and morning list say why it ended, and not that it is well") {
  TempFolder folder;
  Living living(folder / "rind.db");
  Keep(living.House());
  living.Kill();
  Household& house = living.House();
  const json::object alarms = house.See("/api/alarms");
  REQUIRE(alarms.at("past").as_array().size() == 1);
  CHECK(alarms.at("past").as_array()[0].as_object().at("unseen") == true);
  CHECK(house.See("/api/alarms/" + kUnseen).at("alarm").as_object().at("unseen") == true);
  const json::array lines = house.See("/api/journal").at("lines").as_array();
  const bool told = std::ranges::any_of(lines, [](const json::value& line) {
    const json::value* alarm = line.as_object().if_contains("alarm");
    return alarm && alarm->as_object().contains("unseen") && alarm->as_object().at("change") == "over";
  });
  CHECK(told);
  house.StepTo(kThursday + 22h);  // the next morning
  morning::List list;
  AddPast(house.Context(), kThursday, list);
  std::string text;
  for (const auto* past : {&list.night, &list.since, &list.before})
    for (const auto& line : *past) text += line.text + "\n";
  CHECK(text.find("too dry. Since 14:00 the rules of now no longer see it.") != std::string::npos);
}

TEST_CASE("its end is told to whoever listens, like any other") {
  struct Listener : WatchListener {
    std::vector<rules::Decision> over;
    void OnJudged() override {}
    void OnLine(const JournalLine&, const std::vector<Fact>&) override {}
    void OnDecisions(const std::vector<rules::Decision>& decisions) override {
      for (const rules::Decision& decision : decisions)
        if (decision.change == rules::Decision::Change::kOver) over.push_back(decision);
    }
  } listener;
  TempFolder folder;
  {
    Household house(folder / "rind.db", kThursday);
    house.Begin();
    Keep(house);
  }
  Household house(folder / "rind.db", kThursday + 6h);
  house.TheWatch().Tell(listener);
  house.Begin();
  REQUIRE(listener.over.size() == 1);
  CHECK(listener.over[0].alarm.id == kUnseen);
  CHECK(listener.over[0].alarm.over == kThursday + 6h);
}

TEST_CASE("a replay counts that it was ended as no difference, but that it was raised") {
  TempFolder folder;
  {
    Living living(folder / "rind.db");
    Keep(living.House());
    living.Kill();
  }
  const std::atomic<bool> go_on{false};
  const ReplayCall call{.from = kThursday, .to = kThursday + 24h, .cave = {}, .other = {}, .whole = false};
  const ReplayReport report = Replay(folder / "rind.db", Vienna(), call, go_on);
  CHECK(report.differences ==
        std::vector<std::string>{kUnseen + " | raised | " + std::to_string(ToMillis(kThursday + 3h))});
  REQUIRE(report.then.size() == 1);
  CHECK(report.then[0].over == kThursday + 5h);
  CHECK(report.now.empty());
}

TEST_CASE("what these rules themselves saw end, but could not write, keeps its own end") {
  TempFolder folder;
  Living living(folder / "rind.db");
  living.House().Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  living.House().Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  // So late that a start without a state does not go back to the first acts.
  living.House().StepTo(kThursday + 60 * 24h);
  Reads(living.House(), 5h);
  living.House().StepTo(kThursday + 60 * 24h + 10h);
  // Not the one of the weeks before it spoke at all, which is over.
  const std::vector<rules::Alarm> alarms = living.House().TheWatch().Engine().Alarms();
  const auto stands = std::ranges::find_if(
      alarms, [](const rules::Alarm& alarm) { return alarm.kind == rules::AlarmKind::kProbeSilent && !alarm.over; });
  REQUIRE(stands != alarms.end());
  const std::string silent = stands->id;
  living.House().Do("take", {{"alarm", silent}});
  const rules::Instant spoke = living.House().Now();
  living.House().TheStore().refusing = true;
  living.House().Reads(12.5, 85);
  REQUIRE(EndsOf(living.House(), silent).empty());
  REQUIRE(RunSql(folder / "rind.db", "DELETE FROM snapshot") == "");
  living.Kill(3min);
  const auto ends = EndsOf(living.House(), silent);
  REQUIRE(ends.size() == 1);
  CHECK(ends[0].at == spoke);
  CHECK_FALSE(ends[0].body.contains("unseen"));
}

}  // namespace
}  // namespace rindwatch
