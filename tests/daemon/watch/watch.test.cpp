#include "daemon/watch/watch.hpp"

#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/version.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"
#include "tests/daemon/watch/day_and_a_half.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::AlarmKind;

// A fridge with two wheels, too warm since `warm`; rings an hour and some minutes later.
struct WarmFridge {
  TempFolder folder;
  std::unique_ptr<Household> house;

  WarmFridge() { Start(kThursday); }
  void Start(rules::Instant now) {
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    house->Begin();
  }
  void Furnish() {
    house->Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  }
  void Read(double temperature, rules::Millis span) {
    const rules::Instant end = house->Now() + span;
    while (house->Now() < end) {
      house->StepTo(house->Now() + 5min);
      house->Reads(temperature, 85);
    }
  }
  int AlarmLines() { return static_cast<int>(std::ranges::count(house->Journal(), "alarm", &JournalLine::kind)); }
};

class Ears : public WatchListener {
 public:
  void OnJudged() override { ++judged; }
  void OnLine(const JournalLine& line, const std::vector<Fact>&) override { lines.push_back(line.kind); }
  void OnDecisions(const std::vector<rules::Decision>& made) override {
    decisions.insert(decisions.end(), made.begin(), made.end());
  }
  int judged = 0;
  std::vector<rules::Decision> decisions;
  std::vector<std::string> lines;
};

TEST_CASE("what is decided stands in the journal with its cave and its wheels, and listeners hear of it once") {
  WarmFridge fridge;
  fridge.Furnish();
  Ears ears;
  fridge.house->TheWatch().Tell(ears);
  fridge.Read(17.5, 2h);
  REQUIRE(fridge.house->TheWatch().Engine().Alarms().size() == 1);
  REQUIRE(ears.decisions.size() == 1);
  CHECK(ears.lines == std::vector<std::string>{"alarm"});
  CHECK(ears.judged >= 24);
  const auto journal = fridge.house->Journal();
  const auto line = std::ranges::find(journal, "alarm", &JournalLine::kind);
  REQUIRE(line != journal.end());
  CHECK(line->cave == 1);
  CHECK(line->wheels == std::vector<rules::WheelId>{1, 2});
  const rules::Decision& decision = ears.decisions.front();
  CHECK(line->at == decision.at);
  CHECK(line->id == LineIdOf(decision));
  CHECK(line->body == json::serialize(RecordOf(decision)));
}

TEST_CASE("taking an alarm is one line, the keeper's own") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 2h);
  fridge.house->Do("take", {{"alarm", AlarmOf(*fridge.house, AlarmKind::kTooWarm)}});
  CHECK(fridge.house->TheWatch().Engine().Alarms().front().taken == fridge.house->Now());
  CHECK(fridge.AlarmLines() == 1);
}

TEST_CASE("a line that the store refuses is written when it writes again") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 60min);
  fridge.house->TheStore().refusing = true;
  fridge.Read(17.5, 60min);
  CHECK(fridge.house->TheWatch().Engine().Alarms().size() == 1);
  CHECK(fridge.house->TheWatch().Unwritten() == 1);
  CHECK(fridge.AlarmLines() == 0);
  fridge.house->TheStore().refusing = false;
  fridge.house->StepTo(fridge.house->Now() + 1min);
  CHECK(fridge.house->TheWatch().Unwritten() == 0);
  CHECK(fridge.AlarmLines() == 1);
  const auto journal = fridge.house->Journal();
  CHECK(journal.back().at == fridge.house->TheWatch().Engine().Alarms().front().raised);
}

TEST_CASE("a state that knows what the journal does not hold is not saved") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 60min);
  fridge.house->TheStore().refusing = true;
  const int saved = fridge.house->TheStore().saved;
  fridge.Read(17.5, 3h);
  CHECK(fridge.house->TheStore().saved == saved);
  fridge.house->TheStore().refusing = false;
  fridge.Read(17.5, 2h);
  CHECK(fridge.house->TheStore().saved > saved);
}

TEST_CASE("what was decided while the store refused is decided again after a kill, and written") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 60min);
  fridge.house->TheStore().refusing = true;
  fridge.Read(17.5, 60min);
  REQUIRE(fridge.house->TheWatch().Engine().Alarms().size() == 1);
  const rules::Instant raised = fridge.house->TheWatch().Engine().Alarms().front().raised;
  fridge.Start(fridge.house->Now());
  CHECK(fridge.AlarmLines() == 1);
  const auto journal = fridge.house->Journal();
  CHECK(std::ranges::find(journal, "alarm", &JournalLine::kind)->at == raised);
}

TEST_CASE("a saved state of other rules is left alone, and the past lived again") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 2h);
  const auto state = fridge.house->TheWatch().Engine().ToText();
  fridge.house->TheStore().SaveSnapshot({1'000'000, fridge.house->Now(), rules::kRulesVersion + 1, "of another time"},
                                        [](bool) {});
  fridge.house->Settle();
  fridge.Start(fridge.house->Now());
  CHECK(fridge.house->TheWatch().Engine().Alarms().size() == 1);
  CHECK(fridge.AlarmLines() == 1);
}

TEST_CASE("a saved state that is damaged is worked out again from the readings") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 2h);
  const auto alarm = fridge.house->TheWatch().Engine().Alarms().front();
  fridge.house->TheStore().SaveSnapshot({3, fridge.house->Now(), rules::kRulesVersion, "rubbish"}, [](bool) {});
  fridge.house->Settle();
  fridge.Start(fridge.house->Now());
  REQUIRE(fridge.house->TheWatch().Engine().Alarms().size() == 1);
  CHECK(fridge.house->TheWatch().Engine().Alarms().front() == alarm);
  CHECK(fridge.AlarmLines() == 1);
}

TEST_CASE("an old journal without a saved state: what was decided long ago is not told anew") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 2h);
  const int lines = fridge.AlarmLines();
  // Forty days later, after more than the span that is stepped through, with no state that these rules can read.
  fridge.house->TheStore().SaveSnapshot({3, fridge.house->Now(), rules::kRulesVersion, "rubbish"}, [](bool) {});
  fridge.house->Settle();
  fridge.Start(fridge.house->Now() + 24h * 40);
  CHECK(fridge.AlarmLines() == lines + 1);  // that nobody watched
  CHECK(fridge.house->TheBook().Wheels().size() == 2);
  fridge.Read(17.5, 2h);
  CHECK(fridge.house->TheWatch().View(1).state == rules::CaveState::kOutOfBand);
}

TEST_CASE("looking writes nothing and sees what the watch sees") {
  WarmFridge fridge;
  fridge.Furnish();
  fridge.Read(17.5, 2h);
  const auto alarms = fridge.house->TheWatch().Engine().Alarms();
  const rules::Instant now = fridge.house->Now();
  fridge.house.reset();
  {
    Household looking(fridge.folder / "rind.db", now);
    looking.TheWatch().Look();
    CHECK(looking.TheWatch().Engine().Alarms() == alarms);
    CHECK(looking.TheBook().Wheels().size() == 2);
    CHECK(looking.TheWatch().View(1).state == rules::CaveState::kOutOfBand);
    looking.Settle();
    CHECK(looking.Journal().back().kind != "started");
  }
  fridge.Start(now);
  CHECK(fridge.AlarmLines() == 1);
}

TEST_CASE("a line that cannot be read is passed over, live and at a start, and the rest stands") {
  WarmFridge fridge;
  fridge.Furnish();
  for (const char* body : {"no JSON", "[]", "{}", R"({"wheels": "all"})"}) {
    JournalLine line;
    line.id = std::string("strange ") + body;
    line.kind = "care";
    line.wheels = {1};
    line.body = body;
    line.at = line.received_at = fridge.house->Now();
    Fact fact{"wheel", 1, "care", line.at, json::object{{"done", 3}}};
    fridge.house->TheStore().Append(line, {fact}, [](const AppendResult&) {});
    fridge.house->Settle();
  }
  fridge.house->Do("note", {{"text", "still here"}});
  fridge.Read(17.5, 2h);
  CHECK(fridge.AlarmLines() == 1);
  fridge.Start(fridge.house->Now());
  CHECK(fridge.house->TheBook().Wheels().size() == 2);
  CHECK(fridge.AlarmLines() == 1);
  CHECK(fridge.house->See("/api/journal").at("lines").as_array().size() > 6);
}

TEST_CASE("a record of an alarm that nobody can read does not keep the watch from starting, nor from its month") {
  WarmFridge fridge;
  fridge.Furnish();
  int number = 0;
  for (const json::value& record : {json::value(json::array{}), json::value(json::object{}), json::value(3),
                                    json::value(json::object{{"alarm", "x"}, {"change", "raised"}})}) {
    JournalLine line;
    line.id = "strange " + std::to_string(++number);
    line.kind = "alarm";
    line.body = "{}";
    line.at = line.received_at = fridge.house->Now();
    fridge.house->TheStore().Append(line, {Fact{"alarm", 0, "change", line.at, record}}, [](const AppendResult&) {});
    fridge.house->Settle();
  }
  fridge.Start(fridge.house->Now());
  CHECK(fridge.house->TheBook().Wheels().size() == 2);
  CHECK(fridge.house->See("/api/alarms").at("month").as_array().empty());
}

TEST_CASE("today's round is worked out anew after an act, and as time goes") {
  WarmFridge fridge;
  fridge.Furnish();
  CHECK(fridge.house->TheWatch().TodaysRound().Left() == 1);
  fridge.house->Do("care", Care({1, 2}, {"wash"}));
  CHECK(fridge.house->TheWatch().TodaysRound().Left() == 0);
  fridge.house->StepTo(kThursday + 24h);
  CHECK(fridge.house->TheWatch().TodaysRound().Left() == 1);
}

TEST_CASE("a reading that is not live reaches nobody") {
  WarmFridge fridge;
  fridge.Furnish();
  for (int n = 0; n < 30; ++n) {
    fridge.house->StepTo(fridge.house->Now() + 5min);
    auto old = fridge.house->Reading(1, 25);
    old.marks = 0;
    fridge.house->Keep({old});
  }
  CHECK(fridge.house->TheWatch().View(1).temperature.state == rules::CaveState::kUnknown);
  CHECK_FALSE(fridge.house->TheWatch().View(1).temperature.latest);
}

TEST_CASE("an alarm's record names all that is known of it, absent things by null") {
  rules::Alarm alarm;
  alarm.id = "too-warm-1-7";
  alarm.kind = AlarmKind::kTooWarm;
  alarm.cave = 1;
  alarm.wheels = {3, 4};
  const json::object bare = RecordOf({rules::Decision::Change::kRaised, rules::FromMillis(7), alarm});
  for (const char* name : {"taken", "over", "aside_until", "probe", "band"}) CHECK(bare.at(name).is_null());
  CHECK(bare.at("wheels") == json::value(Ids({3, 4})));
  alarm.band = rules::Figure{10.5, 14.5, "x"};
  alarm.probe = 2;
  alarm.over = rules::FromMillis(9);
  const json::object full = RecordOf({rules::Decision::Change::kOver, rules::FromMillis(9), alarm});
  CHECK(full.at("band").as_object().at("high").to_number<double>() == Approx(14.5));
  CHECK(full.at("probe").to_number<int>() == 2);
  CHECK(full.at("over").to_number<int>() == 9);
  CHECK_FALSE(full.contains("cause"));
  CHECK_FALSE(full.contains("said"));
  alarm.cause = AlarmKind::kHumidifierDry;
  alarm.said = {{2, rules::ChannelKind::kHumidity, 84.5}};
  const json::object more = RecordOf({rules::Decision::Change::kOver, rules::FromMillis(9), alarm});
  CHECK(more.at("cause").as_string() == "humidifier dry");
  CHECK(more.at("said") == json::value(json::array{{{"probe", 2}, {"kind", "humidity"}, {"value", 84.5}}}));
  CHECK(LineIdOf({rules::Decision::Change::kOver, rules::FromMillis(9), alarm}) == "too-warm-1-7 | over | 9");
}

}  // namespace
}  // namespace rindwatch
