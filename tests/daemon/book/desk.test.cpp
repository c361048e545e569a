// Each kind of act: what it must say, near-misses with their sentence, what the daemon gives.
#include "daemon/book/desk.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::CareKind;

std::string RefusedBody(const std::string& body) {
  const Book book(Vienna());
  const auto judged = JudgeAct(book, body, std::nullopt, kThursday);
  const auto* fault = std::get_if<ActFault>(&judged);
  return fault ? fault->what : "";
}

TEST_CASE("an act is one JSON object with an id, a kind and the instant of its tap") {
  CHECK_THAT(RefusedBody(""), Says("An act is one JSON object."));
  CHECK_THAT(RefusedBody("["), Says("An act is one JSON object."));
  CHECK_THAT(RefusedBody("[]"), Says("An act is one JSON object."));
  CHECK_THAT(RefusedBody("{} {}"), Says("An act is one JSON object."));
  CHECK_THAT(RefusedBody(std::string(20'000, '[')), Says("An act is one JSON object."));
  CHECK_THAT(RefusedBody("{}"), Says("id should be a text"));
  CHECK_THAT(RefusedBody(R"({"id": "7"})"), Says("32 hexadecimal digits"));
  const std::string id = R"("id": ")" + IdOf(1) + "\"";
  CHECK_THAT(RefusedBody("{" + id + "}"), Says("kind should be a text"));
  CHECK_THAT(RefusedBody("{" + id + R"(, "kind": "care"})"), Says("tapped_at should be an instant"));
  CHECK_THAT(RefusedBody("{" + id + R"(, "kind": "care", "tapped_at": "now"})"), Says("tapped_at should be"));
  CHECK_THAT(RefusedBody("{" + id + R"(, "kind": "melt", "tapped_at": 1})"), Says("Nobody knows an act of the kind"));
}

TEST_CASE("the id can be read without judging the rest") {
  CHECK(ActIdOf(R"({"id": ")" + IdOf(7) + R"(", "kind": 3})") == IdOf(7));
  CHECK_THROWS_AS(ActIdOf("{"), ActFault);
  CHECK_THROWS_AS(ActIdOf(R"({"id": "7"})"), ActFault);
}

TEST_CASE("a line keeps the bytes as they came") {
  Keeping keeping;
  const json::object act = keeping.Act("note", {{"text", "Fridge rattles."}});
  const auto judged = keeping.Judge(act);
  CHECK(std::get<Judged>(judged).line.body == json::serialize(act));
  CHECK(std::get<Judged>(judged).line.keeper == "IH");
}

// ---- entering wheels ----

TEST_CASE("wheels that enter get numbers, a lot, a place and their plan") {
  Keeping keeping;
  const JournalLine line = keeping.Do("enter", PressedWheels(3, NewCave("fridge")));
  CHECK(line.wheels == std::vector<rules::WheelId>{1, 2, 3});
  CHECK(line.cave == 1);
  const json::object answer = json::parse(line.answer).as_object();
  CHECK(answer.at("wheels") == json::value(Ids({1, 2, 3})));
  CHECK(answer.at("cave").to_number<int>() == 1);
  const WheelRow& second = keeping.Wheel(2);
  CHECK(second.number == 2);
  CHECK(keeping.book.WheelName(second) == "Pressed semi-hard 2");
  CHECK(keeping.book.Lot(second.lot).name == "1");
  CHECK(keeping.book.PlaceOf(second).cave == 1);
  CHECK(second.History().plans.back().plan->id == "pressed-semi-hard");
  CHECK(second.History().starts.front().kind == rules::StartKind::kMade);
  CHECK(rules::ToText(second.History().starts.front().day) == DaysAgo(3));
  CHECK(second.History().entered == kThursday);
  CHECK(second.weight.value == 0);
}

TEST_CASE("numbers go on: wheels of all, names of their family, lots of the house") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("fridge")));
  json::object bloomies = PressedWheels(2, InCave(1));
  bloomies["plan"] = "bloomy";
  bloomies["lot"] = "221";
  bloomies["grams"] = 250;
  const JournalLine line = keeping.Do("enter", bloomies);
  CHECK(line.wheels == std::vector<rules::WheelId>{3, 4});
  CHECK(keeping.book.WheelName(keeping.Wheel(4)) == "Bloomy 2");
  CHECK(keeping.book.Lot(keeping.Wheel(4).lot).name == "221");
  CHECK(keeping.Wheel(4).weight.value == 250);
  keeping.Do("enter", PressedWheels(1, InCave(1)));
  CHECK(keeping.book.WheelName(keeping.Wheel(5)) == "Pressed semi-hard 3");
}

TEST_CASE("a lot without a name gets its number") {
  Keeping keeping;
  json::object enter = PressedWheels(1, NewCave("box"));
  enter["lot"] = "";
  keeping.Do("enter", enter);
  CHECK(keeping.book.Lot(1).name == "1");
}

TEST_CASE("the text of a plan is kept with its first wheel, once") {
  Keeping keeping;
  const JournalLine first = keeping.Do("enter", PressedWheels(1, NewCave("box")));
  CHECK(json::parse(first.given).as_object().contains("plan_text"));
  CHECK(keeping.book.IsPlanKept("pressed-semi-hard", 1));
  const JournalLine second = keeping.Do("enter", PressedWheels(1, InCave(1)));
  CHECK_FALSE(json::parse(second.given).as_object().contains("plan_text"));
}

TEST_CASE("what was done last before the watch stands at noon of its day, or just before now if that is today") {
  Keeping keeping;
  json::object enter = InTheBox(PressedWheels(1, NewCave("box"), 12), 9);
  enter["last"] = json::array{{{"kind", "wash"}, {"day", DaysAgo(1)}}, {{"kind", "turn"}, {"day", DaysAgo(0)}}};
  keeping.Do("enter", enter);
  const auto& acts = keeping.Wheel(1).History().acts;
  REQUIRE(acts.size() == 2);
  CHECK(acts[0].done == rules::KindSet{CareKind::kWash});
  CHECK(rules::ToText(acts[0].at) == "2026-03-11T11:00:00.000Z");
  CHECK(acts[1].at == kThursday - 1min);
}

TEST_CASE("a wheel that does not enter is told why") {
  struct Case {
    const char* name;
    json::object change;
    const char* field;
    const char* says;
  };
  const std::vector<Case> cases{
      {"no plan", {{"plan", nullptr}}, "plan", "plan should be a text"},
      {"a plan that is not there", {{"plan", "granite"}}, "plan", "There is no plan called \"granite\"."},
      {"made tomorrow", {{"made", DaysAgo(-1)}}, "made", "lies in the future; today is 2026-03-12."},
      {"made a hundred years ago", {{"made", "1926-01-01"}}, "made", "lies before"},
      {"made on no day", {{"made", "2026-02-30"}}, "made", "a day such as"},
      {"no wheel", {{"count", 0}}, "count", "Between 1 and 2000 wheels"},
      {"too many wheels", {{"count", 2001}}, "count", "Between 1 and 2000 wheels"},
      {"too light", {{"grams", 19.9}}, "grams", "between 20 g and 100 kg"},
      {"too heavy", {{"grams", 100'000.5}}, "grams", "between 20 g and 100 kg"},
      {"nowhere", {{"where", nullptr}}, "where", "where should be an object"},
      {"in a cave that is not there", {{"where", InCave(7)}}, "where", "There is no cave 7 in the book."},
      {"in a cave of no kind", {{"where", NewCave("attic")}}, "where", "a counter, box, fridge or room"},
      {"in a box in a cave that is not there", {{"where", NewCaveIn("box", 9)}}, "where", "There is no cave 9"},
      {"with a start of another plan",
       {{"starts", json::array{{{"start", "pierced"}, {"day", DaysAgo(1)}, {"reckoned", false}}}}},
       "starts",
       "counts no later part from \"pierced\""},
      {"with the first start again",
       {{"starts", json::array{{{"start", "made"}, {"day", DaysAgo(1)}, {"reckoned", false}}}}},
       "starts",
       "counts no later part from \"made\""},
      {"in the box before it was made",
       {{"starts", json::array{{{"start", "entered box"}, {"day", DaysAgo(4)}, {"reckoned", false}}}}},
       "day",
       "lies before"},
      {"in the box tomorrow",
       {{"starts", json::array{{{"start", "entered box"}, {"day", DaysAgo(-1)}, {"reckoned", false}}}}},
       "day",
       "lies in the future"},
      {"no list of starts", {{"starts", nullptr}}, "starts", "starts should be a list"},
      {"a start that is a text", {{"starts", json::array{"made"}}}, "starts", "A start is an object."},
      {"last polished", {{"last", json::array{{{"kind", "polish"}, {"day", DaysAgo(1)}}}}}, "last", "a care called"},
      {"last turned before it was made",
       {{"last", json::array{{{"kind", "turn"}, {"day", DaysAgo(5)}}}}},
       "day",
       "lies before"},
      {"last turned tomorrow",
       {{"last", json::array{{{"kind", "turn"}, {"day", DaysAgo(-1)}}}}},
       "day",
       "lies in the future"},
      {"a last care that is a number", {{"last", json::array{3}}}, "last", "A last care is an object."},
      {"a shelf that is a number", {{"where", {{"new", {{"kind", "box"}}}, {"shelf", 3}}}}, "shelf", "shelf should be"},
  };
  for (const Case& one : cases) {
    CAPTURE(one.name);
    Keeping keeping;
    json::object enter = PressedWheels(1, NewCave("box"));
    for (const auto& [name, value] : one.change) enter[name] = value;
    const ActFault fault = keeping.Refused("enter", enter);
    CHECK(fault.field == one.field);
    CHECK_THAT(fault.what, Says(one.says));
    CHECK((fault.what.ends_with('.') || fault.what.ends_with('?')));
  }
}

// ---- cares ----

TEST_CASE("a care is done, skipped with a reason, or both; missing lists are empty ones") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 12), 9));
  keeping.Do("care", {{"wheels", Ids({1, 2})},
                      {"done", json::array{"turn"}},
                      {"skipped", json::array{"wash"}},
                      {"reason", "rind wet"}});
  const auto& both = keeping.Wheel(2).History().acts.back();
  CHECK(both.done == rules::KindSet{CareKind::kTurn});
  CHECK(both.skipped == rules::KindSet{CareKind::kWash});
  CHECK(both.reason.Text() == "rind wet");
  keeping.Do("care", {{"wheels", Ids({1})}, {"done", json::array{"brush"}}});
  CHECK(keeping.Wheel(1).History().acts.back().done == rules::KindSet{CareKind::kBrush});
  keeping.Do("care", {{"wheels", Ids({1})}, {"skipped", json::array{"wash"}}, {"reason", "no cloth"}});
  CHECK(keeping.Wheel(1).History().acts.back().done.Empty());
  CHECK(keeping.Wheel(2).History().acts.size() == 1);
}

TEST_CASE("a care that says too little or too much is refused") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("box")));
  const auto refused = [&](json::object fields) { return keeping.Refused("care", std::move(fields)).what; };
  CHECK_THAT(refused({{"wheels", Ids({})}, {"done", json::array{"turn"}}}), Says("names at least one"));
  CHECK_THAT(refused({{"wheels", Ids({1, 9})}, {"done", json::array{"turn"}}}), Says("There is no wheel 9"));
  CHECK_THAT(refused({{"wheels", Ids({1})}, {"done", json::array{}}}), Says("says what was done or skipped"));
  CHECK_THAT(refused({{"wheels", Ids({1})}, {"done", json::array{"polish"}}}), Says("a list of cares"));
  CHECK_THAT(refused({{"wheels", Ids({1})}, {"done", json::array{}}, {"skipped", json::array{"turn"}}}),
             Says("needs a reason"));
  CHECK_THAT(
      refused({{"wheels", Ids({1})}, {"done", json::array{"turn"}}, {"skipped", json::array{"turn"}}, {"reason", "x"}}),
      Says("\"turn\" cannot be both done and skipped."));
  CHECK(keeping.Refused("care", {{"done", json::array{"turn"}}}).field == "wheels");
  CHECK(keeping.Refused("care", {{"wheels", Ids({1})}, {"done", json::array{"turn"}}, {"reason", 3}}).field ==
        "reason");
}

// ---- answers ----

TEST_CASE("a yes to a start names its day, today if none, and may move the wheel") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("counter")));
  keeping.Do("answer", {{"wheels", Ids({1})}, {"start", "entered box"}, {"day", DaysAgo(1)}});
  CHECK(rules::ToText(keeping.Wheel(1).History().starts.back().day) == DaysAgo(1));
  CHECK(keeping.book.PlaceOf(keeping.Wheel(1)).cave == 1);
  const JournalLine line =
      keeping.Do("answer", {{"wheels", Ids({2})}, {"start", "entered box"}, {"move_to", NewCave("box")}});
  CHECK(rules::ToText(keeping.Wheel(2).History().starts.back().day) == DaysAgo(0));
  CHECK(line.cave == 2);
  CHECK(keeping.book.PlaceOf(keeping.Wheel(2)).cave == 2);
  CHECK(keeping.book.Cave(2)->name == "Box 1");
}

TEST_CASE("an answer that the plan does not ask for is refused") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("counter")));
  const auto refused = [&](json::object fields) {
    fields["wheels"] = Ids({1});
    return keeping.Refused("answer", std::move(fields));
  };
  CHECK_THAT(refused({{"start", "pierced"}}).what, Says("counts no later part from \"pierced\""));
  CHECK_THAT(refused({{"start", "soon"}}).what, Says("counts no later part from \"soon\""));
  CHECK_THAT(refused({{"start", "made"}}).what, Says("counts no later part from \"made\""));
  CHECK_THAT(refused({{"option", "sell"}}).what, Says("no road called \"sell\""));
  CHECK_THAT(refused({{"start", "entered box"}, {"day", DaysAgo(-1)}}).what, Says("lies in the future"));
  CHECK_THAT(refused({{"start", "entered box"}, {"day", DaysAgo(4)}}).what, Says("the day on which it was made"));
  CHECK(refused({{"start", "entered box"}, {"move_to", InCave(9)}}).field == "move_to");
  CHECK(refused({}).field == "start");
}

TEST_CASE("an answer for several wheels must suit each of them") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("counter")));
  json::object bloomy = PressedWheels(1, InCave(1));
  bloomy["plan"] = "bloomy";
  keeping.Do("enter", bloomy);
  CHECK_FALSE(keeping.Refused("answer", {{"wheels", Ids({1, 2})}, {"start", "entered box"}}).what.empty());
  CHECK(keeping.Refused("answer", {{"wheels", Ids({1})}, {"start", "entered box"}}).what.empty());
}

TEST_CASE("a branch is answered by a road of the plan, and the answer may change") {
  Keeping keeping;
  keeping.Do("enter", InTheBox(PressedWheels(1, NewCave("box"), 30), 27));
  keeping.Do("answer", {{"wheels", Ids({1})}, {"option", "eat young"}});
  CHECK(keeping.Wheel(1).History().branches.back().option == "eat young");
  keeping.Do("answer", {{"wheels", Ids({1})}, {"option", "keep on"}});
  CHECK(keeping.Wheel(1).History().branches.size() == 2);
}

// ---- places ----

TEST_CASE("a wheel moves to a cave or to one that is made for it") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("counter")));
  keeping.now += 1h;
  json::object to = NewCave("room");
  to["shelf"] = "A1";
  const JournalLine line = keeping.Do("move", {{"wheels", Ids({1, 2})}, {"to", to}});
  CHECK(line.cave == 2);
  CHECK(keeping.book.PlaceOf(keeping.Wheel(1)).cave == 2);
  CHECK(keeping.book.PlaceOf(keeping.Wheel(1)).shelf == "A1");
  CHECK(keeping.Refused("move", {{"wheels", Ids({1})}}).field == "to");
  CHECK_THAT(keeping.Refused("move", {{"wheels", Ids({1})}, {"to", InCave(7)}}).what, Says("There is no cave 7"));
}

TEST_CASE("a move begins the part that the plan counts from it, once") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("counter")));
  const auto part = [&](rules::WheelId id) {
    return rules::StandingAt(keeping.Wheel(id).History(), keeping.book.CalendarOf(1), keeping.now).part;
  };
  keeping.now += 1h;
  keeping.Do("move", {{"wheels", Ids({1})}, {"to", NewCave("fridge")}});
  CHECK(part(1) == 0);  // the plan counts from the box
  const JournalLine boxed = keeping.Do("move", {{"wheels", Ids({1, 2})}, {"to", NewCave("box")}});
  CHECK(part(1) == 1);
  CHECK(part(2) == 1);
  keeping.now += 24h;
  keeping.Do("move", {{"wheels", Ids({2})}, {"to", NewCave("box")}});
  const auto& starts = keeping.Wheel(2).History().starts;
  CHECK(std::ranges::count(starts, rules::StartKind::kEnteredBox, &rules::StartEvent::kind) == 1);
  keeping.Do("undo", {{"of", boxed.id}});
  CHECK(part(1) == 0);
  CHECK(keeping.book.PlaceOf(keeping.Wheel(1)).cave == 2);
}

TEST_CASE("a wheel that is gone goes no second time and is cared for no more, but for what was forgotten before") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("box")));
  keeping.now += 5h;
  keeping.Do("gone", {{"wheels", Ids({2})}, {"how", "eaten"}});
  keeping.now += 1h;
  CHECK_THAT(keeping.Refused("gone", {{"wheels", Ids({2})}, {"how", "sold"}}).what, Says("has been gone since"));
  CHECK_THAT(keeping.Refused("care", Care({1, 2}, {"turn"})).what, Says("has been gone since"));
  json::object before = Care({2}, {"turn"});
  before["said_at"] = ToMillis(keeping.now - 3h);
  keeping.Do("care", before);
  keeping.Do("note", {{"text", "a good one"}, {"wheels", Ids({2})}});
}

TEST_CASE("a field that an act does not have is said, with what it may be a slip of") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("box")));
  json::object care = Care({1}, {"turn"});
  care["saidat"] = 5;
  const auto refused = keeping.Refused("care", care);
  CHECK(refused.field == "saidat");
  CHECK_THAT(refused.todo, Says("did you mean \"said_at\""));
  const json::object rule{{"name", "60 days"},
                          {"start", "made"},
                          {"min_temperature", 1.7},
                          {"min_days", 60},
                          {"not_counting", json::array{}},
                          {"vouching", false}};
  CHECK(keeping.Refused("rule", {{"wheels", Ids({1})}, {"rule", rule}}).field == "min_temperature");
}

TEST_CASE("a wheel that is gone is told how, and leaves the present") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("box")));
  keeping.Do("gone", {{"wheels", Ids({2})}, {"how", "eaten"}});
  CHECK(keeping.book.Wheels().size() == 1);
  CHECK(keeping.book.GoneCount() == 1);
  CHECK(keeping.book.Wheel(2) != nullptr);
  CHECK(keeping.Refused("gone", {{"wheels", Ids({1})}}).field == "how");
}

// ---- probes ----

TEST_CASE("a probe is hung with its channels, each with a number of its own") {
  Keeping keeping;
  const JournalLine line = keeping.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  CHECK(json::parse(line.answer).as_object().at("probe").to_number<int>() == 1);
  CHECK(line.cave == 1);
  const ProbeRow& probe = *keeping.book.Probe(1);
  CHECK(probe.name == "Fridge air");
  REQUIRE(probe.channels.size() == 2);
  CHECK(probe.channels[0].id == 1);
  CHECK(probe.channels[0].kind == rules::ChannelKind::kTemperature);
  CHECK(probe.channels[1].id == 2);
  CHECK(probe.route.channels[1].unit == sensors::Unit::kPercent);
  CHECK(keeping.book.HangsIn(probe) == 1);
  keeping.Do("probe", AirProbe("Box air", "box/air", NewCaveIn("box", 1)));
  CHECK(keeping.book.Probe(2)->channels[0].id == 3);
}

TEST_CASE("the same topic is the same probe: described anew it keeps the numbers of what it had") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  keeping.now += 1h;
  json::object anew = AirProbe("Other name", "fridge/air", NewCave("room"));
  anew.at("channels").as_array().push_back({{"kind", "battery"}, {"pointer", "/b"}});
  anew.at("channels").as_array()[0].as_object()["pointer"] = "/temp";
  keeping.Do("probe", anew);
  CHECK(keeping.book.Probes().size() == 1);
  const ProbeRow& probe = *keeping.book.Probe(1);
  CHECK(probe.name == "Other name");
  REQUIRE(probe.channels.size() == 3);
  CHECK(probe.channels[0].id == 3);  // another place in its messages: another series
  CHECK(probe.channels[1].id == 2);
  CHECK(probe.channels[2].id == 4);
  CHECK(keeping.book.HangsIn(probe) == 2);
}

TEST_CASE("a probe that is taken down hangs nowhere") {
  Keeping keeping;
  keeping.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  const JournalLine line = keeping.Do("unhang", {{"probe", 1}});
  CHECK(line.cave == 1);
  CHECK_FALSE(keeping.book.HangsIn(*keeping.book.Probe(1)));
  CHECK_THAT(keeping.Refused("unhang", {{"probe", 7}}).what, Says("There is no probe 7"));
}

TEST_CASE("a probe that could not be read is refused") {
  const auto refused = [](const std::function<void(json::object&)>& change) {
    Keeping keeping;
    json::object probe = AirProbe("Fridge air", "fridge/air", NewCave("fridge"));
    change(probe);
    return keeping.Refused("probe", probe);
  };
  CHECK(refused([](auto& p) { p.erase("name"); }).field == "name");
  CHECK(refused([](auto& p) { p["topic"] = "fridge/#/air"; }).field == "topic");
  CHECK(refused([](auto& p) { p["topic"] = "fridge+/air"; }).field == "topic");
  CHECK(refused([](auto& p) { p["format"] = "xml"; }).field == "format");
  CHECK_FALSE(refused([](auto& p) { p["format"] = "plain"; }).what.empty());
  CHECK_FALSE(refused([](auto& p) { p["channels"] = json::array{}; }).what.empty());
  CHECK(refused([](auto& p) { p["channels"] = json::array{3}; }).field == "channels");
  CHECK_THAT(refused([](auto& p) { p["channels"].as_array()[0].as_object()["kind"] = "colour"; }).what,
             Says("\"colour\""));
  CHECK_THAT(refused([](auto& p) { p["channels"].as_array()[0].as_object()["unit"] = "furlong"; }).what,
             Says("\"furlong\""));
  CHECK_FALSE(refused([](auto& p) { p["channels"].as_array()[0].as_object()["unit"] = "percent"; }).what.empty());
  CHECK_FALSE(refused([](auto& p) { p["channels"].as_array()[0].as_object()["pointer"] = "t"; }).what.empty());
  CHECK_FALSE(refused([](auto& p) { p["time_pointer"] = "at"; }).what.empty());
  CHECK(refused([](auto& p) { p.erase("where"); }).field == "where");
}

// ---- caves, limits, alarms, notes ----

TEST_CASE("limits are typed in for a cave, each side by itself, and taken back by leaving them out") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("fridge")));
  keeping.Do("limits", {{"cave", 1}, {"temperature", {{"low", 9}, {"high", 11.5}}}});
  CHECK(keeping.book.Cave(1)->limits_now.temperature->high == Approx(11.5));
  CHECK_FALSE(keeping.book.Cave(1)->limits_now.humidity);
  keeping.now += 1min;
  keeping.Do("limits", {{"cave", 1}, {"humidity", {{"low", 80}, {"high", 90}}}});
  CHECK_FALSE(keeping.book.Cave(1)->limits_now.temperature);
  CHECK(keeping.book.Cave(1)->limits_now.humidity->low == Approx(80));
}

TEST_CASE("limits that cannot be are refused") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("fridge")));
  const auto refused = [&](const char* side, json::value span) {
    return keeping.Refused("limits", {{"cave", 1}, {side, std::move(span)}}).field;
  };
  CHECK(refused("temperature", {{"low", 12}, {"high", 12}}) == "temperature");
  CHECK(refused("temperature", {{"low", 14}, {"high", 12}}) == "temperature");
  CHECK(refused("temperature", {{"low", -10.1}, {"high", 12}}) == "temperature");
  CHECK(refused("temperature", {{"low", 1}, {"high", 40.1}}) == "temperature");
  CHECK(refused("temperature", {{"low", 1}}) == "temperature");
  CHECK(refused("temperature", "warm") == "temperature");
  CHECK(refused("humidity", {{"low", -1}, {"high", 90}}) == "humidity");
  CHECK(refused("humidity", {{"low", 1}, {"high", 101}}) == "humidity");
  CHECK(refused("humidity", {{"low", 0}, {"high", 100}}).empty());
  CHECK_THAT(keeping.Refused("limits", {{"cave", 7}}).what, Says("There is no cave 7"));
}

TEST_CASE("a cave gets another name and stays what it is") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCaveIn("box", json::object{{"kind", "fridge"}})));
  keeping.now += 1min;
  keeping.Do("cave", {{"cave", 2}, {"name", "Blue lid"}});
  CHECK(keeping.book.Cave(2)->name == "Blue lid");
  CHECK(keeping.book.Cave(2)->kind == CaveKind::kBox);
  CHECK(keeping.book.Cave(2)->inside == 1);
  CHECK(keeping.Refused("cave", {{"cave", 2}}).field == "name");
}

TEST_CASE("an alarm is taken, called by its name, or set aside for a day at most") {
  Keeping keeping;
  const JournalLine taken = keeping.Do("take", {{"alarm", "a1"}});
  CHECK(*keeping.book.KeeperOf(taken.id) == "IH");
  CHECK_THAT(keeping.Refused("undo", {{"of", taken.id}}).what, Says("the bell has stopped"));
  keeping.Do("called", {{"alarm", "a1"}, {"what", "door"}});
  keeping.now += 1min;
  keeping.Do("called", {{"alarm", "a1"}, {"what", "defrost"}});
  CHECK(*keeping.book.CalledAs("a1") == "defrost");
  CHECK(keeping.book.CalledAs("a2") == nullptr);
  const auto until = [&](rules::Millis after) {
    return keeping.Refused("aside", {{"alarm", "a1"}, {"until", ToMillis(keeping.now + after)}}).field;
  };
  CHECK(until(24h).empty());
  CHECK(until(24h + 1ms) == "until");
  CHECK(until(0h) == "until");
  CHECK(keeping.Refused("take", {}).field == "alarm");
  CHECK(keeping.Refused("called", {{"alarm", "a1"}}).field == "what");
}

TEST_CASE("what is done about an alarm belongs to the alarm's cave") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("fridge")));
  JournalLine raised =
      OwnLine("alarm", "a1 | raised | 1", {{"alarm", "a1"}, {"severity", "act"}, {"cave", 1}}, keeping.now);
  for (const Fact& fact : FactsOf(raised)) keeping.book.Take(raised, fact);
  CHECK(keeping.Do("take", {{"alarm", "a1"}}).cave == 1);
  CHECK_FALSE(keeping.Do("take", {{"alarm", "a2"}}).cave);
}

TEST_CASE("a note stands alone, at a cave or on wheels") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("fridge")));
  CHECK_FALSE(keeping.Do("note", {{"text", "A mouse?"}}).cave);
  CHECK(keeping.Do("note", {{"text", "Smells sweet."}, {"cave", 1}}).cave == 1);
  CHECK(keeping.Do("note", {{"text", "A crack."}, {"wheels", Ids({2})}}).wheels == std::vector<rules::WheelId>{2});
  CHECK(keeping.Refused("note", {{"text", ""}}).field == "text");
  CHECK(keeping.Refused("note", {{"text", std::string(2001, 'a')}}).field == "text");
  CHECK_THAT(keeping.Refused("note", {{"text", "x"}, {"wheels", Ids({9})}}).what, Says("There is no wheel 9"));
}

}  // namespace
}  // namespace rindwatch
