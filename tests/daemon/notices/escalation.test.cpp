#include "daemon/notices/notices.hpp"

#include <algorithm>
#include <set>

#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

TEST_CASE("an alarm calls one keeper after the other until it is taken, and says who took it and when it is over") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Hears("TR", 2, {{"list", "never"}});
  heard.Gas(8000, 12min);
  REQUIRE(!heard.house->TheWatch().Engine().Alarms().empty());
  REQUIRE(!heard.post.sent.empty());
  CHECK(heard.To().front() == "IH@cave.example");
  CHECK_THAT(heard.post.sent.front().message, Says("Fridge carbon dioxide high since"));
  CHECK_THAT(heard.post.sent.front().message, Says("Door open, and stay out."));
  heard.Gas(8000, 20min);
  CHECK_THAT(heard.post.Subjects().back(), Says("Time to act") || Says("obody has come yet"));
  CHECK(heard.To().back() == "TR@cave.example");
  const std::size_t before = heard.post.sent.size();
  json::object take{{"alarm", heard.TheAlarm()}, {"keeper", "TR"}};
  heard.house->Do("take", take);
  heard.Gas(8000, 3min);
  REQUIRE(heard.post.sent.size() == before + 1);
  CHECK(heard.To().back() == "IH@cave.example");
  CHECK_THAT(heard.post.Subjects().back(), Says("TR took it"));
  heard.Gas(600, 40min);
  REQUIRE(heard.post.sent.size() == before + 3);
  CHECK_THAT(heard.post.Subjects().back(), Says("Over: Fridge carbon dioxide high"));
}

TEST_CASE("killed in the middle of an escalation: the next keeper is called all the same, nobody twice") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Hears("TR", 2, {{"list", "never"}});
  heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  const auto warm = [&](double degrees, rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, 600)});
      heard.house->Reads(degrees, 85, 2);
    }
  };
  warm(12, 3h);
  for (int i = 0; i < 300 && heard.post.sent.empty(); ++i) warm(16, 1min);
  const std::size_t before = heard.post.sent.size();
  REQUIRE(heard.To() == Texts{"IH@cave.example"});
  const rules::Instant now = heard.house->Now();
  heard.Start(now + 2min);
  warm(16, 20min);
  int to_ih = 0, to_tr = 0;
  for (const Parcel& parcel : heard.post.sent) {
    const bool rings = parcel.message.find("Nobody watched") == std::string::npos &&
                       parcel.message.find("not watched") == std::string::npos;
    if (!rings) continue;
    (parcel.to == "IH@cave.example" ? to_ih : to_tr) += 1;
  }
  CHECK(to_ih == static_cast<int>(before));
  CHECK(to_tr >= 1);
}

TEST_CASE("after an update an alarm that goes on under another name calls nobody anew, and its end is told") {
  for (const bool took : {true, false}) {
    CAPTURE(took);
    Heard heard;
    heard.Hears("IH", 1, {{"list", "never"}});
    heard.Hears("TR", 2, {{"list", "never"}});
    heard.Gas(8000, 12min);
    const std::string alarm = heard.TheAlarm();
    if (took) heard.house->Do("take", {{"alarm", alarm}, {"keeper", "IH"}});
    heard.Gas(8000, 2min);
    REQUIRE(std::ranges::count(heard.To(), "IH@cave.example") == 1);
    const std::size_t before = heard.post.sent.size();
    // As rules of before had named it, with nothing left of their memory.
    std::string sql = "DROP TRIGGER journal_is_kept; DROP TRIGGER fact_is_kept; DELETE FROM snapshot;";
    for (const auto& [table, column] : std::vector<std::pair<std::string, std::string>>{
             {"journal", "id"}, {"journal", "body"}, {"fact", "value"}, {"notice", "alarm"}, {"notice", "key"}})
      sql += "UPDATE " + table + " SET " + column + " = replace(" + column + ", '" + alarm + "', 'gas-of-before');";
    REQUIRE(RunSql(heard.folder / "rind.db", sql) == "");
    heard.Start(heard.house->Now() + 1min);
    heard.Gas(8000, 4min);
    CHECK(heard.post.sent.size() == before);
    heard.Gas(600, 60min);
    CHECK_THAT(heard.post.Subjects().back(), Says("Over: Fridge carbon dioxide high"));
  }
}

namespace {

// Has the notices looked at after every judgement, before the journal has the lines of what was decided in it: as where
// something else is due in that moment.
struct Hasty : WatchListener {
  Heard& heard;
  explicit Hasty(Heard& of) : heard(of) { of.house->TheWatch().Tell(*this); }
  void OnJudged() override {
    static_cast<WatchListener&>(*heard.notices).OnDecisions({});
    heard.house->Schedules().RunDue();
  }
  void OnLine(const JournalLine&, const std::vector<Fact>&) override {}
  void OnDecisions(const std::vector<rules::Decision>&) override {}
};

// A probe of the air that falls silent in the evening; that of gas still speaks, so that it waits for the morning, and
// becomes an act at 06:30, in the keepers' quiet hours.
struct NightsSilence {
  Heard heard;
  Hasty hasty{heard};
  int said = 0;
  NightsSilence() {
    const json::object night{{"quiet", {{"from", "20:00"}, {"to", "08:00"}}}, {"list", "never"}};
    heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
    heard.Hears("IH", 1, night);
    heard.Hears("TR", 2, night);
  }
  void To(rules::Millis after) {
    while (heard.house->Now() < kThursday + after) {
      heard.house->StepTo(heard.house->Now() + 3min);
      heard.house->Keep({heard.house->Reading(1, 600)});
      // It saws a little, as air does.
      ++said;
      if (heard.house->Now() < kThursday + 12h) heard.house->Reads(12 + 0.1 * (said % 5), 85 + said % 3, 2);
      heard.house->Settle();
    }
  }
};

}  // namespace

TEST_CASE("a silence that waited for the morning as a watch asks from then on: the next keeper is called in turn") {
  NightsSilence night;
  night.To(21h + 27min);
  REQUIRE(night.heard.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kWatch);
  REQUIRE(night.heard.post.sent.empty());
  night.To(21h + 36min);
  REQUIRE(night.heard.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kAct);
  CHECK(night.heard.To() == Texts{"IH@cave.example"});
  night.To(21h + 42min);
  CHECK(night.heard.To() == Texts{"IH@cave.example"});
  night.To(21h + 48min);
  CHECK(night.heard.To() == Texts{"IH@cave.example", "TR@cave.example"});
}

TEST_CASE("what became grave is told, and in turn, although the journal refuses its line; once it has it, not anew") {
  NightsSilence night;
  night.To(21h + 27min);
  night.heard.house->TheStore().refusing = true;
  night.To(21h + 36min);
  CHECK(night.heard.To() == Texts{"IH@cave.example"});
  night.heard.house->TheStore().refusing = false;
  night.To(21h + 42min);
  CHECK(night.heard.To() == Texts{"IH@cave.example"});
  night.To(22h);
  CHECK(night.heard.To() == Texts{"IH@cave.example", "TR@cave.example"});
}

TEST_CASE("gas is said again by its figure of now: not below the limit of an act, seldom below that of urgent") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  const auto again = [&] {
    const Texts subjects = heard.post.Subjects();
    return std::ranges::count_if(
        subjects, [](const std::string& subject) { return subject.find("still not taken") != std::string::npos; });
  };
  heard.Gas(16000, 50min);
  REQUIRE(again() == 3);
  heard.Gas(4000, 130min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().Rings());
  CHECK(again() == 3);
  heard.Gas(9000, 65min);
  CHECK(again() == 5);
  heard.Gas(16000, 35min);
  CHECK(again() == 7);
  // Nobody knows how it is now: no reason to rest.
  heard.GoTo(heard.house->Now() - kThursday + 15min);
  CHECK(again() == 8);
}

TEST_CASE("keepers who hear of a watch in the same moment, after a quiet night, are not told that nobody came") {
  Heard heard;
  const json::object night{{"quiet", {{"from", "08:00"}, {"to", "18:00"}}}, {"list", "never"}};
  heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  heard.Hears("IH", 1, night);
  heard.Hears("TR", 2, night);
  for (const rules::Instant end = heard.house->Now() + 11h; heard.house->Now() < end;) {
    heard.house->StepTo(heard.house->Now() + 1min);
    heard.house->Keep({heard.house->Reading(1, 600)});
    heard.house->Reads(heard.house->Now() < end - 8h ? 12 : 14.4, 85, 2);
  }
  REQUIRE(heard.To() == Texts{"IH@cave.example", "TR@cave.example"});
  CHECK_THAT(heard.post.Subjects()[1], Says("Fridge too warm since"));
  CHECK_THAT(heard.post.Subjects()[1], !Says("Nobody has come yet"));
}

TEST_CASE("what is urgent comes again, rests while the air is back inside, and goes on once it leaves anew") {
  Heard heard;
  heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  heard.Hears("IH", 1, {{"list", "never"}});
  const auto air = [&](double degrees, rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, 600)});
      heard.house->Reads(degrees, 85, 2);
    }
  };
  const auto again = [&] {
    const Texts subjects = heard.post.Subjects();
    return std::ranges::count_if(
        subjects, [](const std::string& subject) { return subject.find("still not taken") != std::string::npos; });
  };
  air(12, 3h);
  air(24, 3h);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kUrgent);
  const auto while_out = again();
  CHECK(while_out >= 3);
  air(11, 15min);
  const auto on_its_way = again();
  air(11, 35min);
  CHECK(again() == on_its_way);
  REQUIRE(!heard.house->TheWatch().Engine().Alarms().front().over);
  air(26, 45min);
  CHECK(again() > on_its_way);
}

TEST_CASE("a third keeper is not fetched for air that is back inside, and is once it has left again") {
  Heard heard;
  heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Hears("TR", 2, {{"list", "never"}});
  heard.Hears("MK", 3, {{"list", "never"}});
  const auto air = [&](double degrees, rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, 600)});
      heard.house->Reads(degrees, 85, 2);
    }
  };
  const auto called = [&] {
    const Texts to = heard.To();
    return std::ranges::count(to, "MK@cave.example");
  };
  air(12, 3h);
  while (heard.post.sent.empty()) air(17, 1min);
  air(12, 65min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kAct);
  REQUIRE(!heard.house->TheWatch().Engine().Alarms().front().over);
  CHECK(called() == 0);
  air(16, 40min);
  CHECK(called() == 1);
}

TEST_CASE("a keeper with two addresses hears at both, the same and once at each") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}, {"mail", json::array{"ih@cave.example", "ih@work.example"}}});
  heard.Gas(16000, 3min);
  const Texts subjects = heard.post.Subjects();
  REQUIRE(heard.To() == Texts{"ih@cave.example", "ih@work.example"});
  CHECK_THAT(subjects.front(), Says("Urgent: Fridge carbon dioxide high"));
  CHECK(subjects.front() == subjects.back());
  // Each is a row of its own on disk, so that neither is lost or said again over a restart.
  heard.Start(heard.house->Now() + 1min);
  heard.house->Context().notices = heard.notices.get();
  const json::object page = heard.house->See("/api/notices");
  std::set<std::string> rows;
  for (const json::value& value : page.at("log").as_array()) {
    const json::object& row = value.as_object();
    if (row.at("kind") == "rings" && row.at("state") == "sent") rows.emplace(row.at("address").as_string());
  }
  CHECK(rows == std::set<std::string>{"ih@cave.example", "ih@work.example"});
  CHECK(heard.To().size() == 2);
}

TEST_CASE("a keeper who hears no more hears no more") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}});
  heard.house->Do("hearing", {{"name", "IH"}, {"leaves", true}});
  heard.Gas(8000, 30min);
  heard.house->StepTo(kThursday + 30h);
  heard.house->Settle();
  CHECK(heard.post.sent.empty());
}

TEST_CASE("where an alarm was set aside, nobody is called as if none had come once it is urgent") {
  Heard heard;
  heard.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  json::object bloomies = PressedWheels(6, InCave(1), 8);
  bloomies["plan"] = "bloomy";
  bloomies["grams"] = 250;
  heard.house->Do("enter", bloomies);
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Hears("TR", 2, {{"list", "never"}, {"least", "urgent"}});
  int said = 0;
  const auto air = [&](double degrees, rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, 600)});
      ++said;
      heard.house->Reads(degrees + 0.05 * (said % 3), 85 + said % 3, 2);
      heard.house->Settle();
    }
  };
  const auto alarm = [&] {
    const std::vector<rules::Alarm> alarms = heard.house->TheWatch().Engine().Alarms();
    REQUIRE(alarms.size() == 1);
    return alarms.front();
  };
  air(12, 4h);
  air(17, 2h);
  REQUIRE(alarm().severity == rules::Severity::kAct);
  const Texts called = heard.To();
  REQUIRE(std::ranges::count(called, "IH@cave.example") == std::ssize(called));
  const bool aside = GENERATE(true, false);
  if (aside)
    heard.house->Do("aside", {{"alarm", alarm().id}, {"until", ToMillis(heard.house->Now() + 12h)}});
  else
    heard.house->Do("take", {{"alarm", alarm().id}});
  air(17, 2min);
  heard.post.sent.clear();
  while (alarm().severity < rules::Severity::kUrgent) air(26, 1min);
  air(26, 2min);
  CHECK(heard.To() == Texts{"IH@cave.example"});
  air(26, 15min);
  const Texts to = heard.To();
  CHECK(std::ranges::count(to, "TR@cave.example") == 1);
}

}  // namespace rindwatch
