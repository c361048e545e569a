#include "daemon/api/gas.hpp"

#include <regex>

#include "daemon/api/gas_json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/command/text.hpp"
#include "daemon/notices/letters.hpp"
#include "daemon/notices/told_broker.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

TEST_CASE("while gas rings in a place its lines of the round say to stay out, on the page and in the list") {
  Heard heard;
  heard.FreshWheels();
  const auto line = [&] { return heard.house->See("/api/round").at("lines").as_array().front().as_object(); };
  heard.Gas(2600, 20min);
  CHECK_FALSE(line().contains("barred"));  // to be aired, and no place to stay in
  CHECK_THAT(heard.RoundText(), !Says("stay out"));
  heard.Gas(6000, 5min);
  CHECK(line().at("barred").as_string() == "gas");
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

TEST_CASE("of two gases the graver stands first in the list with its orders, though somebody has taken it") {
  Heard heard;
  heard.FreshWheels();
  heard.house->Do("probe", {{"name", "Nose"},
                            {"topic", "fridge/nose"},
                            {"format", "json"},
                            {"channels", json::array{{{"kind", "ammonia"}, {"pointer", "/nh3"}}}},
                            {"where", InCave(1)}});
  for (int minute = 0; minute < 10; ++minute) {
    heard.house->StepTo(heard.house->Now() + 1min);
    heard.house->Keep({heard.house->Reading(1, 16200), heard.house->Reading(2, 30)});
    heard.house->Settle();
  }
  for (const rules::Alarm& alarm : heard.house->TheWatch().Engine().Alarms())
    if (alarm.kind == rules::AlarmKind::kCarbonDioxide) heard.house->Do("take", {{"alarm", alarm.id}});
  const std::string list = heard.RoundText();
  CHECK(list.find("carbon dioxide high") < list.find("ammonia high"));
  CHECK_THAT(list, Says("Everybody out, nobody in."));
  // One door, one order: the lesser gas leaves it to the graver one.
  const json::array alarms = heard.house->See("/api/round").at("head").at("alarms").as_array();
  const json::object graver = alarms.at(0).as_object(), lesser = alarms.at(1).as_object();
  CHECK(lesser.at("kind").as_string() == "ammonia");
  CHECK(lesser.at("worse_beside").as_bool());
  CHECK_FALSE(graver.contains("worse_beside"));
  CHECK(lesser.at("first") == graver.at("first"));
  const std::string now = NowText(Words::English(), heard.house->See("/api/caves"));
  CHECK_THAT(now, Says("Beside it carbon dioxide, 16200 ppm, is worse") && !Says("Never go in alone"));
  CHECK_THAT(now, Says("!! Urgent: Fridge carbon dioxide high, 16200 ppm\n") && Says("Nobody in, not for a moment."));
  CHECK_THAT(now, Says("ppm carbon dioxide; ") && Says("ppm ammonia\n"));
}

TEST_CASE("a letter of gas says in subject and head how grave it is and who may be in it, and once in all") {
  Heard heard;
  heard.Hears("TR", 1);
  heard.house->Do("here", {{"cave", 1}, {"keeper", "IH"}});
  heard.Gas(16200, 5min);
  REQUIRE_FALSE(heard.post.sent.empty());
  const std::string page = "http://cave.example:8417";
  const rules::Alarm alarm = heard.house->TheWatch().Engine().Alarms().front();
  const Letter letter =
      Letters(heard.house->Context(), page)
          .OfAlarm({"TR", alarm.id, rules::NoticeKind::kRings, alarm.raised, 0}, alarm, Letters::Before::kNothing);
  CHECK(letter.subject.starts_with("Urgent: Fridge carbon dioxide high"));
  CHECK_THAT(letter.subject, Says("IH said at"));
  CHECK(letter.blocks.front().text == letter.subject);
  const std::string text = PlainText(letter);
  CHECK(text.find("IH said") == text.rfind("IH said"));
}

TEST_CASE("a push of two gases leads to the one that it tells first") {
  Heard heard;
  Webhook hook;
  hook.name = "bell";
  hook.url = "http://bell.example/";
  heard.house->TheConfig().notices.webhooks = {hook};
  heard.house->Do("probe", {{"name", "Nose"},
                            {"topic", "fridge/nose"},
                            {"format", "json"},
                            {"channels", json::array{{{"kind", "ammonia"}, {"pointer", "/nh3"}}}},
                            {"where", InCave(1)}});
  heard.Hears("IH", 1, {{"mail", json::array{}}, {"webhooks", json::array{"bell"}}});
  // The lesser one waits to be told, and the graver one comes beside it.
  heard.Net(false);
  for (const double co2 : {600.0, 16200.0}) {
    for (int minute = 0; minute < 20; ++minute) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, co2), heard.house->Reading(2, 30)});
      heard.house->Settle();
    }
  }
  heard.Net(true);
  for (int minute = 0; minute < 30; ++minute) {
    heard.house->StepTo(heard.house->Now() + 1min);
    heard.house->Keep({heard.house->Reading(1, 16200), heard.house->Reading(2, 30)});
    heard.house->Settle();
  }
  REQUIRE_FALSE(heard.post.sent.empty());
  const json::object push = json::parse(heard.post.sent.front().body).as_object();
  CHECK_THAT(fields::Text(push, "subject"), Says("carbon dioxide high") && Says("16200"));
  CHECK_THAT(fields::Text(push, "alarm"), Says("carbon"));
  CHECK(fields::Text(push, "link").ends_with(fields::Text(push, "alarm")));
}

TEST_CASE("the state of a cave at the broker is never well while gas rings there, or while nobody knows of it") {
  Heard heard;
  const auto state = [&] {
    const CaveRow& cave = *heard.house->TheBook().Cave(1);
    json::object told = CaveStateJson(heard.house->TheWatch(), cave, heard.house->TheWatch().View(1));
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
  const auto alarm_of_gas = [&] {
    return heard.house->See("/api/round").at("head").at("alarms").as_array().front().as_object();
  };
  heard.Gas(2600, 15min);
  CHECK_THAT(warnings(), Says("air the place, do not stay"));
  CHECK(alarm_of_gas().at("grade").as_string() == "watch");
  CHECK_FALSE(alarm_of_gas().contains("here_by"));
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
  CHECK(warnings().find("TR and IH said at") == 0);  // people first
  CHECK(json::serialize(alarm_of_gas().at("here_by")) == R"(["TR","IH"])");
  // One who goes out leaves the other there.
  heard.house->Do("out", {{"cave", 1}, {"keeper", "TR"}});
  CHECK(who() == R"(["IH"])");
  heard.Gas(16000, 3min);
  CHECK_THAT(warnings(), Says("a danger to life"));
  CHECK(alarm_of_gas().at("grade").as_string() == "urgent");
  CHECK_THAT(warnings(), Says("IH said at"));
  CHECK_THAT(heard.RoundText(), Says("and not yet to be out"));
  heard.GoTo(60min);
  CHECK_THAT(warnings(), Says("nobody knows now. Last 16000"));
  const json::object alarm = alarm_of_gas();
  CHECK(alarm.at("kind").as_string() == "carbon dioxide");  // people first
  CHECK(alarm.at("grade").as_string() == "unknown");
  CHECK_FALSE(alarm.contains("value"));
}

TEST_CASE("of two probes of one gas the worst that speaks is told, whichever spoke last") {
  Heard heard;
  heard.house->Do("probe", {{"name", "Other"},
                            {"topic", "fridge/other"},
                            {"format", "json"},
                            {"channels", json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}}},
                            {"where", InCave(1)}});
  const bool worst_last = GENERATE(false, true);
  for (int minute = 0; minute < 10; ++minute) {
    heard.house->StepTo(heard.house->Now() + 1min);
    const auto worst = heard.house->Reading(1, 16200), other = heard.house->Reading(2, 600);
    heard.house->Keep({worst_last ? other : worst});
    heard.house->StepTo(heard.house->Now() + 1s);
    heard.house->Keep({worst_last ? worst : other});
    heard.house->Settle();
  }
  const json::object cave = heard.house->See("/api/caves/1").at("cave").as_object();
  REQUIRE(cave.at("gas").as_array().size() == 1);
  CHECK(cave.at("gas").at(0).at("latest").to_number<double>() == Approx(16200));
  CHECK(cave.at("gas").at(0).at("grade").as_string() == "urgent");
  const json::value head = heard.house->See("/api/round").at("head");
  CHECK(head.at("alarms").at(0).at("grade").as_string() == "urgent");
}

TEST_CASE("who said to be there stays named for as long as gas stands, though the hour of their being there is over") {
  Heard heard;
  heard.house->Do("here", {{"cave", 1}, {"keeper", "IH"}});
  heard.Gas(600, 15min);
  heard.Gas(16200, 90min);
  const auto here_by = [&] {
    const json::object alarm = heard.house->See("/api/round").at("head").at("alarms").at(0).as_object();
    return alarm.contains("here_by") ? json::serialize(alarm.at("here_by")) : std::string{};
  };
  CHECK(here_by() == R"(["IH"])");
  heard.house->Do("out", {{"cave", 1}, {"keeper", "IH"}});
  CHECK(here_by().empty());
}

TEST_CASE("gas in a place reaches whatever stands in it, however deep") {
  Heard heard;
  heard.house->Do("enter", PressedWheels(1, NewCaveIn("box", 1), 2));
  heard.house->Do("enter", PressedWheels(1, NewCaveIn("box", 2), 2));
  heard.Gas(6000, 10min);
  for (const rules::CaveId cave : {1, 2, 3}) CHECK(IsBarredByGas(heard.house->TheWatch(), cave));
}

TEST_CASE("a power cut darkens the gas of all that stands in its place, by probes that are in service") {
  Heard heard;
  heard.house->Do("probe", {{"name", "Nose"},
                            {"topic", "box/nose"},
                            {"format", "json"},
                            {"channels", json::array{{{"kind", "ammonia"}, {"pointer", "/nh3"}}}},
                            {"where", NewCaveIn("box", 1)}});
  rules::Alarm cut;
  cut.kind = rules::AlarmKind::kPowerGone;
  cut.cave = 1;
  const Book& book = heard.house->TheWatch().TheBook();
  heard.house->Do("service", {{"probe", 1}, {"out", true}, {"why", "it drifts"}});
  CHECK(DarkensGas(book, cut));
  heard.house->Do("service", {{"probe", 2}, {"out", true}, {"why", "it drifts"}});
  CHECK_FALSE(DarkensGas(book, cut));
}

TEST_CASE("gas that is no longer judged is not said to be low again") {
  Heard heard;
  rules::Alarm gas;
  gas.id = "carbon-dioxide-1-1";
  gas.kind = rules::AlarmKind::kCarbonDioxide;
  gas.severity = rules::Severity::kUrgent;
  gas.cave = 1;
  gas.since = kThursday - 2h;
  gas.over = kThursday;
  gas.extreme = 16200;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return PlainText(letters.OfSeveral({{"over", "", &gas}}, false)); };
  CHECK_THAT(text(), Says("the door may be shut"));
  gas.ending = rules::Ending::kStruck;
  CHECK_THAT(text(), Says("measure before anybody goes in") && !Says("the door may be shut"));
}

namespace {

// Of the gas alarm that stands, as it is told of `kind`.
Letter LetterOf(Heard& heard, rules::NoticeKind kind) {
  const std::string page = "http://cave.example:8417";
  const rules::Alarm alarm = heard.house->TheWatch().Engine().Alarms().front();
  return Letters(heard.house->Context(), page)
      .OfAlarm({"TR", alarm.id, kind, heard.house->Now(), 0}, alarm, Letters::Before::kNothing);
}

std::string OneLine(const std::string& text) { return std::regex_replace(text, std::regex(R"(\s+)"), " "); }

}  // namespace

TEST_CASE("what is urgent stays so in letter and list when it is taken, as long as the figure is") {
  Heard heard;
  heard.FreshWheels();
  heard.Gas(16200, 5min);
  heard.house->Do("take", {{"alarm", heard.TheAlarm()}, {"keeper", "IH"}});
  const std::string list = OneLine(heard.RoundText());
  CHECK_THAT(list, Says("Subject: Urgent: Fridge carbon dioxide high since"));
  CHECK_THAT(list, Says("!! Urgent: Fridge carbon dioxide high since") && Says("16200 ppm") && Says("IH took it."));
  const Letter taken = LetterOf(heard, rules::NoticeKind::kTaken);
  CHECK(taken.subject.starts_with("Urgent: IH took it"));
  CHECK_THAT(taken.subject, Says("16200 ppm"));
  heard.Gas(4000, 3min);
  CHECK_THAT(OneLine(heard.RoundText()), !Says("Urgent"));
  CHECK_FALSE(LetterOf(heard, rules::NoticeKind::kTaken).subject.starts_with("Urgent"));
}

TEST_CASE("of gas whose probe has fallen silent the head says that its figure is not known, and the last one") {
  Heard heard;
  heard.Gas(16200, 5min);
  heard.GoTo(80min);
  const std::string unknown = "Not known now, last 16200 ppm.";
  const Letter again = LetterOf(heard, rules::NoticeKind::kAgain);
  CHECK(again.subject.starts_with("Urgent, still not taken: Fridge carbon dioxide high since"));
  CHECK_THAT(again.subject, Says(unknown));
  CHECK_THAT(OneLine(heard.RoundText()), Says(unknown));
  CHECK_THAT(NowText(Words::English(), heard.house->See("/api/caves")), Says("Last 16200 ppm"));
}

TEST_CASE("that gas is over says who was there and was never said to be out") {
  Heard heard;
  heard.house->Do("here", {{"cave", 1}, {"keeper", "TR"}});
  heard.Gas(16200, 5min);
  rules::Alarm gas = heard.house->TheWatch().Engine().Alarms().front();
  heard.Gas(500, 40min);
  gas.over = heard.house->Now();
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return OneLine(PlainText(letters.OfSeveral({{"over", "", &gas}}, false))); };
  CHECK_THAT(text(), Says("TR said at 09:00 to be there, and not yet to be out."));
  heard.house->Do("out", {{"cave", 1}, {"keeper", "TR"}});
  CHECK_THAT(text(), !Says("TR said"));
}

TEST_CASE("what else rings in a place with gas names the gas and its figure before its steps") {
  Heard heard;
  heard.Gas(6000, 5min);
  rules::Alarm warm;
  warm.id = "too-warm-1-1";
  warm.kind = rules::AlarmKind::kTooWarm;
  warm.severity = rules::Severity::kAct;
  warm.cave = 1;
  warm.since = warm.raised = heard.house->Now() - 1h;
  const auto told = [&] {
    const std::vector<std::string> warnings = WarningsOf(heard.house->Context(), warm);
    return warnings.empty() ? std::string{} : warnings.front();
  };
  CHECK(told() == "Gas is in it: carbon dioxide, 6000 ppm.");
  heard.GoTo(80min);
  CHECK(told() == "Gas is in it: carbon dioxide, not known now, last 6000 ppm.");
  heard.Gas(500, 40min);
  CHECK(told().empty());
}

}  // namespace rindwatch
