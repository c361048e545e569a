#include "daemon/notices/notices.hpp"

#include <algorithm>
#include <set>

#include "daemon/api/gas_json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/notices/letters.hpp"
#include "daemon/notices/told_broker.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/notices/post.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using testing::Post;
using Texts = std::vector<std::string>;

// A fridge whose carbon dioxide rings when it is told to, with keepers who hear by mail. Thursday, 09:00 in Vienna.
struct Heard {
  TempFolder folder;
  Post post;
  std::unique_ptr<Household> house;
  std::unique_ptr<Notices> notices;
  std::uint64_t acts = 0;

  Heard() {
    Start(kThursday);
    house->Do("probe", {{"name", "Gas"},
                        {"topic", "fridge/gas"},
                        {"format", "json"},
                        {"channels", json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}}},
                        {"where", NewCave("fridge")}});
  }
  void Start(rules::Instant now) {
    notices.reset();
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    acts += 1000;
    house->SetActs(acts);
    house->TheConfig().notices.mail.server = "mail.cave.example";
    house->TheConfig().notices.mail.from = "watch@cave.example";
    house->Begin();
    notices = std::make_unique<Notices>(house->Context(), house->Schedules(),
                                        Notices::Ways{&post, "http://cave.example:8417"});
    house->TheWatch().Tell(*notices);
    notices->Begin();
    while (!notices->Begun()) house->Settle();
  }
  void Hears(const char* name, int rank, json::object more = {}) {
    json::object act{{"name", name},
                     {"rank", rank},
                     {"mail", json::array{json::string(std::string(name) + "@cave.example")}},
                     {"quiet", nullptr}};
    for (auto& [key, value] : more) act[key] = value;
    house->Do("hearing", act);
  }
  void Gas(double ppm, rules::Millis span) {
    const rules::Instant end = house->Now() + span;
    while (house->Now() < end) {
      house->StepTo(house->Now() + 1min);
      house->Keep({house->Reading(1, ppm)});
      house->Settle();
    }
  }
  Texts To() const {
    Texts to;
    for (const Parcel& parcel : post.sent) to.push_back(parcel.to);
    return to;
  }
  // Among all that went out: the rounds of the day.
  std::size_t Lists() const {
    return static_cast<std::size_t>(std::ranges::count_if(post.sent, [](const Parcel& parcel) {
      return parcel.message.find("X-Rindwatch: round") != std::string::npos;
    }));
  }
  // The network of the house goes, or is back.
  void Net(bool up) {
    post.ready = up;
    post.answer = up ? Outcome{Outcome::Kind::kSent, "took it"} : Outcome{Outcome::Kind::kNotNow, "no way there"};
  }
  // Two fresh wheels in the fridge, that are turned in the morning and again in the evening.
  void FreshWheels() { house->Do("enter", PressedWheels(2, InCave(1), 1)); }
  void Turns() { house->Do("care", Care({1, 2}, {"turn"})); }
  void GoTo(rules::Millis after) {
    house->StepTo(kThursday + after);
    house->Settle();
  }
  // "evening sent", oldest first.
  Texts ListRows() {
    house->Context().notices = notices.get();
    const json::object page = house->See("/api/notices");
    Texts rows;
    for (const json::value& value : page.at("log").as_array()) {
      const json::object& row = value.as_object();
      const std::string kind(row.at("kind").as_string());
      if (kind == "morning" || kind == "evening") rows.push_back(kind + " " + std::string(row.at("state").as_string()));
    }
    std::ranges::reverse(rows);
    return rows;
  }
  std::string RoundText() {
    house->Context().notices = notices.get();
    return house->Get("/api/round/text").body;
  }
  std::string TheAlarm() { return house->TheWatch().Engine().Alarms().front().id; }
};

}  // namespace

TEST_CASE("while gas rings in a place its lines of the round say to stay out, on the page and in the list") {
  Heard heard;
  heard.FreshWheels();
  const auto line = [&] { return heard.house->See("/api/round").at("lines").as_array().front().as_object(); };
  heard.Gas(2600, 20min);
  CHECK_FALSE(line().contains("barred"));  // to be aired, and no place to stay in
  CHECK_THAT(heard.RoundText(), !Says("stay out"));
  heard.Gas(6000, 5min);
  CHECK(line().at("barred").as_bool());
  CHECK_THAT(heard.RoundText(), Says("not now: gas first, stay out"));
  CHECK_THAT(heard.RoundText(), Says("6000"));
  CHECK_THAT(heard.RoundText(), !Says("keeps its band"));
  heard.Gas(600, 20min);
  CHECK_FALSE(line().contains("barred"));
  CHECK_THAT(heard.RoundText(), !Says("stay out"));
}

TEST_CASE("what gas bars is in no sum, on page, list and broker alike: only what can be done is counted") {
  Heard heard;
  heard.house->Do("enter", PressedWheels(60, InCave(1), 1));
  heard.house->Do("enter", PressedWheels(3, NewCave("counter"), 1));
  const auto round = [&] { return heard.house->See("/api/round"); };
  const auto sentence = [&] { return std::string(round().at("head").at("sentence").as_string()); };
  const std::int64_t all = round().at("minutes").as_int64();
  heard.Gas(6000, 5min);
  CHECK(round().at("lines").as_array().size() == 2);
  const std::int64_t left = round().at("minutes").as_int64();
  CHECK(left < all);
  CHECK_THAT(sentence(), Says("One left, ") && Says(" One not now: gas first."));
  CHECK(sentence().starts_with("Fridge carbon dioxide high"));
  CHECK_THAT(heard.RoundText(), Says("One line, ") && Says("One not now: gas first."));
  const json::object told = RoundStateJson(heard.house->Context());
  CHECK(told.at("left").to_number<int>() == 1);
  CHECK(told.at("minutes").to_number<std::int64_t>() == left);
  CHECK(told.at("lines").as_array().size() == 2);
  heard.house->Do("care", Care({61, 62, 63}, {"turn"}));
  CHECK(round().at("minutes").as_int64() == 0);
  CHECK_THAT(sentence(), !Says("done") && !Says("left") && Says("One not now: gas first."));
  heard.Gas(600, 20min);
  CHECK_THAT(sentence(), Says("One left") && !Says("gas first"));
}

TEST_CASE("the state of a cave at the broker is never well while gas rings there, or while nobody knows of it") {
  Heard heard;
  const auto state = [&] {
    const CaveRow& cave = *heard.house->TheBook().Cave(1);
    json::object told = CaveStateJson(heard.house->TheBook(), cave, heard.house->TheWatch().View(1));
    told["state"] = "in band";  // whatever its air is
    PutGasFirst(told, heard.house->TheWatch(), cave);
    return told;
  };
  const auto word = [&] { return std::string(state().at("state").as_string()); };
  CHECK(word() == "unknown");  // not a word of it yet
  heard.Gas(600, 20min);
  CHECK(word() == "in band");
  CHECK_FALSE(state().contains("barred"));
  heard.Gas(6000, 5min);
  CHECK(word() == "gas");
  CHECK(state().at("barred").as_bool());
  CHECK(state().at("gas").as_array().front().at("latest").to_number<double>() == 6000);
  heard.house->Do("take", {{"alarm", heard.TheAlarm()}});
  CHECK(word() == "gas");
  heard.Gas(600, 20min);
  CHECK(word() == "in band");
  heard.GoTo(3h);
  CHECK(word() == "unknown");  // its probe is silent
}

TEST_CASE("a place of whose gas nothing is known any more is barred too, once that rings") {
  Heard heard;
  heard.FreshWheels();
  heard.Gas(600, 20min);
  heard.GoTo(70min);
  const json::object round = heard.house->See("/api/round");
  CHECK(round.at("lines").as_array().front().as_object().contains("barred"));
  // What it said last is told as that, not as what is there now.
  const json::object alarm = round.at("head").at("alarms").as_array().front().as_object();
  CHECK(alarm.at("darkens_gas").as_bool());
  CHECK_THAT(std::string(alarm.at("warnings").as_array().front().as_string()),
             Says("Of its gas nothing is known since"));
  CHECK_THAT(std::string(alarm.at("warnings").as_array().front().as_string()), Says("Last 600"));
}

TEST_CASE("gas says how bad it is, who said to be there, and nothing from memory once its probe is silent") {
  Heard heard;
  const auto warnings = [&] {
    std::string all;
    const json::value head = heard.house->See("/api/round").at("head");
    for (const json::value& alarm : head.at("alarms").as_array()) {
      if (alarm.at("kind").as_string() != "carbon dioxide") continue;
      for (const json::value& one : alarm.at("warnings").as_array()) all += std::string(one.as_string()) + "\n";
    }
    return all;
  };
  heard.Gas(2600, 15min);
  CHECK_THAT(warnings(), Says("air the place, do not stay"));
  heard.house->Do("here", {{"cave", 1}, {"keeper", "IH"}});
  const auto who = [&] {
    const json::object page = heard.house->See("/api/caves/1");
    const json::value* by = page.at("cave").as_object().if_contains("here_by");
    return by ? json::serialize(*by) : std::string{};
  };
  CHECK(who() == R"(["IH"])");
  heard.house->Do("here", {{"cave", 1}, {"keeper", "TR"}});
  heard.house->Do("here", {{"cave", 1}, {"keeper", "IH"}});
  CHECK(who() == R"(["TR","IH"])");
  heard.Gas(16000, 3min);
  CHECK_THAT(warnings(), Says("a danger to life"));
  CHECK_THAT(warnings(), Says("IH said at"));
  CHECK_THAT(heard.RoundText(), Says("and not yet to be out"));
  heard.GoTo(60min);
  CHECK_THAT(warnings(), Says("nobody knows now. Last 16000"));
  const json::object alarm = heard.house->See("/api/round").at("head").at("alarms").as_array().front().as_object();
  CHECK(alarm.at("kind").as_string() == "carbon dioxide");  // people first
  CHECK_FALSE(alarm.contains("value"));
}

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

TEST_CASE("the morning list goes out at its hour with the words of the terminal, once, also over a restart") {
  Heard heard;
  heard.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.house->StepTo(kThursday + 30h);
  heard.house->Settle();
  heard.house->StepTo(heard.house->Now() + 1min);
  heard.house->Settle();
  REQUIRE(heard.Lists() == 1);
  heard.Start(heard.house->Now() + 1h);
  heard.house->StepTo(heard.house->Now() + 2h);
  heard.house->Settle();
  CHECK(heard.Lists() == 1);
}

TEST_CASE("a list whose hour passed while nobody watched comes late rather than never") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.Start(kThursday + 26h);
  heard.house->StepTo(heard.house->Now() + 1min);
  heard.house->Settle();
  CHECK(heard.Lists() == 1);
}

TEST_CASE("what rang by day and is over is told by the next list, with its day, and by that one alone") {
  Heard heard;
  heard.house->Context().notices = heard.notices.get();
  // On days with work and on Sundays: there is no wheel.
  heard.Hears("IH", 1, {{"list", "work"}, {"morning", "06:30"}});
  const auto told = [&heard](rules::Millis after) {
    heard.house->StepTo(kThursday + after);
    heard.house->Settle();
    return heard.house->Get("/api/round/text").body;
  };
  heard.house->StepTo(kThursday + 3h);
  heard.Gas(8000, 12min);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  const char* day_and_hour = "\nThursday 12:01\n          Fridge: carbon dioxide high to 1";
  CHECK_THAT(told(6h), Says("\n12:01     Fridge: carbon dioxide high to 1"));
  CHECK_THAT(told(22h), Says("\nBegun before the night\n"));
  CHECK_THAT(told(22h), Says(day_and_hour));
  CHECK_THAT(told(46h), Says(day_and_hour));
  CHECK(heard.Lists() == 0);
  CHECK_THAT(told(69h + 29min), Says(day_and_hour));
  CHECK(heard.Lists() == 0);
  CHECK_THAT(told(71h), Says(day_and_hour));
  CHECK(heard.Lists() == 1);
  CHECK_THAT(told(94h), !Says("carbon dioxide high"));
}

TEST_CASE("a list that a newer one overtook before it could go has told nothing: the night is in that newer one") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", "18:00"}});
  heard.GoTo(13h);
  heard.Gas(8000, 12min);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(15h);
  heard.Net(false);
  heard.GoTo(24h);
  REQUIRE(heard.ListRows() == Texts{"morning waiting"});
  heard.Turns();
  heard.GoTo(33h + 30min);
  heard.Net(true);
  heard.GoTo(36h);
  REQUIRE(heard.ListRows() == Texts{"morning folded", "evening sent"});
  heard.GoTo(46h);
  REQUIRE(heard.ListRows() == Texts{"morning folded", "evening sent", "morning sent"});
  // The list of the evening was the first that arrived, and told it.
  CHECK_THAT(heard.post.sent[heard.post.sent.size() - 2].message,
             Says("This evening") && Says("In the night") && Says("Fridge: carbon dioxide high to 22:"));
  CHECK_THAT(heard.post.sent.back().message, !Says("carbon dioxide high"));
  CHECK_THAT(heard.RoundText(), !Says("carbon dioxide high"));
}

TEST_CASE("the list of the evening tells what was over since that of the morning, and the next morning not again") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", "18:00"}});
  heard.GoTo(22h);
  heard.Turns();
  heard.GoTo(26h);
  heard.Gas(8000, 12min);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(34h);
  REQUIRE(heard.ListRows() == Texts{"morning sent", "evening sent"});
  CHECK_THAT(heard.post.sent.back().message,
             Says("Over since the morning") && Says("Fridge: carbon dioxide high to 11:"));
  heard.GoTo(46h);
  REQUIRE(heard.ListRows().back() == "morning sent");
  CHECK_THAT(heard.post.sent.back().message, !Says("carbon dioxide high"));
}

TEST_CASE("what lasted over days says on which it ended, wherever another one stands in front of it") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.GoTo(3h);
  heard.Gas(8000, 14h);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(22h);
  REQUIRE(heard.Lists() == 1);
  CHECK_THAT(heard.post.sent.back().message, Says("Begun before the night") && Says("Thursday 12:01") &&
                                                 Says("Fridge: carbon dioxide high to Friday 02:"));
}

TEST_CASE("what began in the evening and ended by day is news of the day, with the day on which it began") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", "18:00"}});
  heard.GoTo(11h);
  heard.Gas(8000, 13h);
  heard.Turns();
  heard.Gas(8000, 2h);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(34h);
  REQUIRE(heard.ListRows() == Texts{"morning sent", "evening sent"});
  const std::string& evening = heard.post.sent.back().message;
  CHECK_THAT(evening, Says("Over since the morning") && Says("Thursday 20:01") &&
                          Says("Fridge: carbon dioxide high to Friday 11:"));
  CHECK_THAT(evening, !Says("In the night") && !Says("Begun before the night"));
}

TEST_CASE("a list that still waits behind the alarms when the next is made has told nothing") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.GoTo(2h);
  heard.Net(false);
  heard.GoTo(3h);
  heard.Gas(8000, 12min);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(45h + 29min);
  REQUIRE(heard.ListRows() == Texts{"morning waiting"});
  heard.GoTo(47h);
  heard.Net(true);
  heard.GoTo(49h);
  CHECK(heard.Lists() == 1);
  CHECK(heard.ListRows().back() == "morning sent");
  CHECK_THAT(heard.post.sent.back().message, Says("Begun before the night"));
  CHECK_THAT(heard.post.sent.back().message, Says("Thursday 12:01"));
  heard.GoTo(70h);
  CHECK_THAT(heard.RoundText(), !Says("carbon dioxide high"));
}

TEST_CASE("a wheel that is handled twice a day makes a second list, at its hour, once, for those who want one") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "work"}, {"evening", "18:00"}});
  heard.Hears("TR", 2, {{"list", "work"}, {"evening", nullptr}});
  heard.GoTo(30min);
  heard.Turns();
  heard.GoTo(9h - 1min);
  CHECK(heard.ListRows().empty());
  heard.GoTo(9h + 1min);
  REQUIRE(heard.ListRows() == Texts{"evening sent"});
  CHECK(heard.To().back() == "IH@cave.example");
  CHECK_THAT(heard.post.Subjects().back(), Says("This evening:"));
  heard.Start(heard.house->Now() + 10min);
  heard.GoTo(12h);
  CHECK(heard.ListRows() == Texts{"evening sent"});
}

TEST_CASE("without a wheel to handle a second time there is no second list") {
  Heard heard;
  heard.FreshWheels();
  heard.Hears("IH", 1, {{"list", "work"}, {"evening", "18:00"}});
  heard.GoTo(30min);
  heard.Turns();
  heard.GoTo(8h + 45min);
  heard.Turns();
  heard.GoTo(14h);
  CHECK(heard.ListRows().empty());
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

TEST_CASE("of several places that nobody watched the one that warmed the most leads, and each has its figures") {
  Heard heard;
  rules::Alarm calm;
  calm.id = "unwatched-1-1";
  calm.kind = rules::AlarmKind::kUnwatched;
  calm.severity = rules::Severity::kWatch;
  calm.why = rules::Why::kWarmedMeanwhile;
  calm.cave = 1;
  calm.since = kThursday - 5h;
  calm.over = kThursday;
  calm.before = 12.1;
  calm.value = calm.extreme = 14.6;
  calm.warmest = 13.0;
  rules::Alarm ready = calm;
  ready.id = "unwatched-2-1";
  ready.before = 2.9;
  ready.value = ready.extreme = 8.9;
  ready.warmest = 7.1;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const std::string text = PlainText(letters.OfSeveral({{"rings", "", &calm}, {"rings", "", &ready}}, false));
  CHECK(text.find("2.9") < text.find("12.1"));
  CHECK_THAT(text, Says("8.9 °C after") && Says("14.6 °C") && Says("7.1") && !Says("Over:"));
}

TEST_CASE("that gas is over says that the door may be shut; what is taken is not asked to be taken") {
  Heard heard;
  rules::Alarm gas;
  gas.id = "carbon-dioxide-1-1";
  gas.kind = rules::AlarmKind::kCarbonDioxide;
  gas.severity = rules::Severity::kAct;
  gas.cave = 1;
  gas.since = gas.raised = kThursday - 1h;
  gas.value = gas.extreme = 6000;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return PlainText(letters.OfSeveral({{"rings", "", &gas}}, true)); };
  CHECK_THAT(text(), Says("Open it and take it"));
  gas.taken = kThursday;
  CHECK_THAT(text(), !Says("take it"));
  gas.over = kThursday;
  CHECK_THAT(text(), Says("the door may be shut"));
}

TEST_CASE("of several that are over the first is told like one alone: how long, how far, what it was") {
  Heard heard;
  rules::Alarm cold;
  cold.id = "too-cold-1-1";
  cold.kind = rules::AlarmKind::kTooCold;
  cold.cave = 1;
  cold.since = kThursday - 2h;
  cold.over = kThursday;
  cold.extreme = -1.7;
  cold.dose = 1.5;
  rules::Alarm door = cold;
  door.id = "door-open-1-1";
  door.kind = rules::AlarmKind::kDoorOpen;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const std::string text = PlainText(letters.OfSeveral({{"over", "", &cold}, {"over", "", &door}}, false));
  CHECK_THAT(text, Says("2 h") && Says("-1.7 °C") && Says("1.5 degree-hours") && Says("What was it?"));
  CHECK_THAT(text, Says("door left open"));
}

TEST_CASE("when the power is back the letter says how the air was at both edges and what a wheel can have become") {
  Heard heard;
  const ApiContext& context = heard.house->Context();
  const std::string page = "http://cave.example:8417";
  rules::Alarm alarm;
  alarm.id = "power-gone-1-1";
  alarm.kind = rules::AlarmKind::kPowerGone;
  alarm.cave = 1;
  alarm.since = kThursday - 2h;
  alarm.over = kThursday;
  alarm.value = 12.4;
  alarm.before = 12.4;
  alarm.extreme = 16.1;
  alarm.warmest = 14.62;
  const Letters letters(context, page);
  const rules::Notice over{"IH", alarm.id, rules::NoticeKind::kOver, kThursday};
  const auto says = [&](const std::string& words) {
    const Letter letter = letters.OfAlarm(over, alarm, Letters::Before::kNothing);
    return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
  };
  const std::string wheel = " The smallest wheel was at most about 14.6 °C. ";
  CHECK(says("Air 12.4 °C before, 16.1 °C after." + wheel + "It warmed: the plant stood still too."));
  alarm.extreme = 12.9;
  CHECK(says("Air 12.4 °C before, 12.9 °C after." + wheel + "The air is as it was before."));
}

namespace {

// An alarm of the fridge's air as the rules would hand it over, and the letter about it.
struct Told : Heard {
  const std::string page = "http://cave.example:8417";
  rules::Alarm alarm;
  explicit Told(rules::AlarmKind kind) {
    alarm.id = "told-1-1";
    alarm.kind = kind;
    alarm.severity = rules::Severity::kAct;
    alarm.cave = 1;
    alarm.since = alarm.raised = kThursday - 2h;
    alarm.band = rules::Figure{10, 14, ""};
  }
  Letter TheLetter() {
    const Letters letters(house->Context(), page);
    const rules::NoticeKind kind = alarm.over ? rules::NoticeKind::kOver : rules::NoticeKind::kRings;
    return letters.OfAlarm({"IH", alarm.id, kind, house->Now()}, alarm, Letters::Before::kNothing);
  }
  bool Says(const std::string& words) {
    const Letter letter = TheLetter();
    return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
  }
  json::object Json() { return AlarmJson(house->Context(), alarm); }
  Letter Of(rules::NoticeKind kind, Letters::Before before = Letters::Before::kNothing) {
    return Letters(house->Context(), page).OfAlarm({"IH", alarm.id, kind, house->Now()}, alarm, before);
  }
};

bool Holds(const Letter& letter, const std::string& words) {
  return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
}

}  // namespace

TEST_CASE("that nobody has taken it is news only once somebody could have, and what is urgent says so each time") {
  const std::string nobody = "Nobody has taken it yet.";
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.severity = rules::Severity::kUrgent;
  using enum rules::NoticeKind;
  CHECK(told.Of(kRings).subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_FALSE(Holds(told.Of(kRings), nobody));
  const Letter again = told.Of(kAgain);
  CHECK(again.subject.starts_with("Urgent, still not taken: Fridge too warm since"));
  CHECK(Holds(again, nobody));
  const Letter escalated = told.Of(kRings, Letters::Before::kOthersToo);
  CHECK(escalated.subject.starts_with("Urgent, nobody has come yet: Fridge"));
  CHECK(Holds(escalated, nobody));
  told.alarm.severity = rules::Severity::kAct;
  CHECK(told.Of(kAgain).subject.starts_with("Still not taken: Fridge"));
}

TEST_CASE("a letter that tells of several says how urgent the first is, and once that nobody has taken it") {
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.severity = rules::Severity::kUrgent;
  rules::Alarm damp = told.alarm;
  damp.id = "told-1-2";
  damp.kind = rules::AlarmKind::kTooDamp;
  damp.severity = rules::Severity::kWatch;
  const Letters letters(told.house->Context(), told.page);
  const auto of = [&](bool waited) {
    return letters.OfSeveral({{"rings", "", &damp, waited}, {"rings", "", &told.alarm, waited}}, false);
  };
  CHECK(of(false).subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_THAT(PlainText(of(false)), !Says("Nobody has taken it"));
  const Letter late = of(true);
  CHECK(late.subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_THAT(late.subject, Says("Nobody has taken it. And one more."));
  CHECK_FALSE(Holds(late, "Nobody has taken it yet."));
}

TEST_CASE("a letter about a probe names it, and with its battery what it still holds") {
  Told told(rules::AlarmKind::kProbeSilent);
  told.alarm.probe = 1;
  told.alarm.band.reset();
  CHECK(told.Says("Its probe: Gas."));
  told.alarm.kind = rules::AlarmKind::kBatteryLow;
  told.alarm.value = 5;
  CHECK(told.Says("Its probe: Gas, 5 %."));
}

TEST_CASE("of a time that nobody watched the letter says from when to when, and what to look at") {
  Told told(rules::AlarmKind::kUnwatched);
  told.alarm.severity = rules::Severity::kWatch;
  told.alarm.band.reset();
  told.alarm.over = told.alarm.raised = kThursday;
  const Letter letter = told.Of(rules::NoticeKind::kRings);
  CHECK(letter.subject == "Fridge not watched from 07:00 to 09:00.");
  const auto steps = std::ranges::find(letter.blocks, Letter::Block::Kind::kSteps, &Letter::Block::kind);
  REQUIRE(steps != letter.blocks.end());
  CHECK(steps->steps.size() == 3);
  CHECK(steps->steps.front() == "Read the thermometer there.");
}

TEST_CASE("what is over of warmth or cold says that it cost no day, where it touched wheels with a qualifying age") {
  Told told(rules::AlarmKind::kTooCold);
  told.house->Do("enter", PressedWheels(2, InCave(1), 10));
  told.alarm.wheels = {1, 2};
  told.alarm.over = kThursday;
  told.alarm.extreme = 5;
  const std::string none = "It costs no day of the qualifying age.";
  CHECK_FALSE(told.Says(none));
  CHECK_FALSE(told.Json().contains("uncounted"));
  // Days that were too cold are told where a wheel is counted at all, by its own rule.
  const rules::Date day{std::chrono::days{20'400}};
  told.alarm.cold_days = {{day, 3.9, {1, 2}}, {day + std::chrono::days{1}, 4.0, {1, 2}}};
  CHECK_FALSE(told.Json().contains("uncounted"));
  told.house->Do("rule", {{"wheels", Ids({2})},
                          {"rule",
                           {{"name", "60 days at 4 °C or more"},
                            {"start", "made"},
                            {"min_celsius", 4},
                            {"min_days", 60},
                            {"not_counting", json::array{}},
                            {"vouching", false}}}});
  CHECK(told.Json().at("uncounted").as_array().size() == 1);
  CHECK_FALSE(told.Says(none));
  // The air alone costs nothing, and a wheel without a rule neither.
  told.alarm.extreme = 3;
  told.alarm.cold_days = {{day, 4.1, {2}}, {day, 3, {1}}};
  CHECK(told.Says(none));
  CHECK(told.Json().at("uncounted").as_array().empty());
  told.alarm.kind = rules::AlarmKind::kTooWarm;
  told.alarm.extreme = 17;
  CHECK(told.Says(none));
  told.alarm.struck = true;
  CHECK_FALSE(told.Says(none));
  told.alarm.why = rules::Why::kBand;
  told.alarm.over.reset();
  CHECK_FALSE(told.Json().contains("uncounted"));
}

TEST_CASE("wheels of one family and place are told apart by their weight where it comes to them at different times") {
  Told told(rules::AlarmKind::kTooWarm);
  for (const int grams : {1500, 6000}) {
    json::object tommes = PressedWheels(grams == 1500 ? 2 : 3, InCave(1), 10);
    tommes["grams"] = grams;
    told.house->Do("enter", tommes);
  }
  told.alarm.since = told.alarm.raised = told.house->Now();
  told.alarm.wheels = {1, 2};
  told.alarm.matters = {{0min, 0min, {1, 2}}, {180min, 290min, {3, 4, 5}}};
  const Letter letter = told.TheLetter();
  const auto rows = std::ranges::find_if(letter.blocks, [](const auto& block) { return !block.rows.empty(); });
  REQUIRE(rows != letter.blocks.end());
  REQUIRE(rows->rows.size() == 2);
  CHECK(rows->rows[0].first == "2 pressed semi-hard of 1.5 kg, Fridge");
  CHECK(rows->rows[0].second == "now");
  CHECK(rows->rows[1].first == "3 pressed semi-hard of 6 kg, Fridge");
  CHECK(rows->rows[1].second == "in 3 to 5 h");
  CHECK(told.Json().at("as_of").to_number<std::int64_t>() == ToMillis(told.house->Now()));
  // What may never come is not now.
  told.alarm.matters.front().latest.reset();
  CHECK(told.TheLetter().blocks[static_cast<std::size_t>(rows - letter.blocks.begin())].rows[0].second ==
        "nobody can say");
}

TEST_CASE("of one family, place and weight their state tells which are meant: what holds is kept cooler") {
  Told told(rules::AlarmKind::kTooWarm);
  for (const int age : {2, 30}) {
    json::object tommes = PressedWheels(2, InCave(1), age);
    if (age == 30) tommes = InTheBox(tommes, 27);
    tommes["grams"] = 2000;
    told.house->Do("enter", tommes);
  }
  told.alarm.since = told.alarm.raised = told.house->Now();
  told.alarm.wheels = {1, 2};
  told.alarm.matters = {{0min, 0min, {1, 2}}, {180min, 290min, {3, 4}}};
  const Letter letter = told.TheLetter();
  const auto rows = std::ranges::find_if(letter.blocks, [](const auto& block) { return !block.rows.empty(); });
  REQUIRE(rows != letter.blocks.end());
  CHECK(rows->rows[0].first == "2 pressed semi-hard, drying, Fridge");
  CHECK_THAT(rows->rows[1].first, Says("2 pressed semi-hard, r") && Says(", Fridge"));
}

TEST_CASE("an alarm of a box says what to do about a box") {
  Told told(rules::AlarmKind::kTooDamp);
  told.house->Do("enter", PressedWheels(1, NewCaveIn("box", 1), 10));
  told.alarm.since = told.alarm.raised = told.house->Now();
  const auto first = [&] { return std::string(told.Json().at("first").as_array().front().as_string()); };
  CHECK(first() == "Does water come in: seal, drain?");
  told.alarm.cave = 2;
  CHECK(first() == "Open the lid a finger, wipe its drops off.");
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

TEST_CASE("the page tells who hears, what went out and with which words; a test goes only where somebody hears") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.house->Context().notices = heard.notices.get();
  heard.Gas(16000, 3min);
  const json::object page = heard.house->See("/api/notices");
  CHECK(page.at("hearers").as_array().size() == 1);
  REQUIRE(page.at("log").as_array().size() >= 1);
  const json::object row = page.at("log").as_array().back().as_object();
  CHECK(row.at("state") == "sent");
  CHECK_THAT(std::string(row.at("subject").as_string()), Says("Urgent: Fridge carbon dioxide high"));
  const json::object one = heard.house->See("/api/notices/" + std::to_string(row.at("number").as_int64()));
  CHECK_THAT(std::string(one.at("text").as_string()), Says("http://cave.example:8417/alarms/"));
  CHECK(heard.house->Get("/api/notices/999").status == 404);
  CHECK(heard.house->Get("/api/notices?before=x").status == 400);
  web::Request test;
  test.method = "POST";
  test.path = "/api/notices/test";
  test.body = R"({"way":"mail","address":"somebody@else.example"})";
  CHECK(heard.house->Ask(test).status == 422);
  test.body = R"({"way":"mail","address":"IH@cave.example"})";
  const web::Response answer = heard.house->Ask(test);
  CHECK(answer.status == 200);
  CHECK_THAT(answer.body, Says("\"outcome\":\"sent\""));
}

TEST_CASE("an address that is none is refused in the keeper's words") {
  Heard heard;
  for (const char* address : {"ih", "ih@", "@x", "a@b@c", "a b@c", "a@b\r\nRCPT TO:<x@y>", "<a@b>", "a@b,c@d"}) {
    INFO(address);
    CHECK_THROWS_WITH(heard.Hears("IH", 1, {{"mail", json::array{json::string(address)}}}), Says("no mail address"));
  }
  CHECK_THROWS_WITH(heard.Hears("IH", 1, {{"morning", "25:00"}}), Says("an hour such as 06:30"));
  CHECK_THROWS_WITH(heard.Hears("IH", 1, {{"holidays", json::array{{{"from", "2026-05-02"}, {"back", "2026-05-01"}}}}}),
                    Says("ends after it begins"));
}

}  // namespace rindwatch
