#include "daemon/command/text.hpp"
#include "daemon/words/moments.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

TEST_CASE("the morning list goes out at its hour with the words of the terminal, once, also over a restart") {
  Heard heard;
  heard.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", nullptr}});
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

TEST_CASE("a box with a probe and no wheel in it stands in no list, but where something of it is wrong") {
  Heard heard;
  heard.FreshWheels();
  heard.house->Do("probe", AirProbe("Lid", "box/air", NewCaveIn("box", 1)));
  const auto air = [&](rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Reads(12, 88, 2);
    }
  };
  air(20min);
  REQUIRE(heard.house->TheWatch().View(2).temperature.mean);
  CHECK_THAT(heard.RoundText(), Says("Fridge") && !Says("Box"));
  SECTION("what lies in it is told with its air") {
    heard.house->Do("enter", InTheBox(PressedWheels(1, InCave(2), 5), 2));
    air(5min);
    CHECK_THAT(heard.RoundText(), Says("\nBox") && Says("12.0 °C"));
  }
  SECTION("its probe fell silent") {
    heard.GoTo(2h);
    CHECK_THAT(heard.RoundText(), Says("\nBox"));
  }
}

TEST_CASE("what drifts says by which half hour it leaves its band, in the list and for the page") {
  Heard heard;
  heard.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  heard.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  heard.house->Do("probe", AirProbe("Shelf", "fridge/air", InCave(1)));
  const auto begins = heard.house->Now();
  while (heard.house->Now() < begins + 3h) {
    heard.house->StepTo(heard.house->Now() + 1min);
    const double hours = std::chrono::duration<double, std::ratio<3600>>(heard.house->Now() - begins).count();
    heard.house->Reads(12.2 + 0.5 * hours, 85, 2);
  }
  REQUIRE(heard.house->TheWatch().View(1).state == rules::CaveState::kDrifting);
  const json::object caves = heard.house->See("/api/caves");
  const json::object& air = caves.at("caves").as_array().front().as_object().at("temperature").as_object();
  REQUIRE(air.contains("out_by"));
  const auto out_by = rules::FromMillis(air.at("out_by").to_number<std::int64_t>());
  CHECK(out_by > heard.house->Now());
  CHECK(out_by <= heard.house->Now() + 2h);
  CHECK(out_by.time_since_epoch() % 30min == rules::Millis{0});
  const std::string hour = TimeWords(heard.house->TheBook().Home().zone.ToLocal(out_by));
  CHECK_THAT(heard.RoundText(), Says("drifting warm") && Says("out by " + hour));
}

TEST_CASE("a defrost that has just passed does not open the list, and its row says both figures") {
  Heard heard;
  heard.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  heard.house->Do("probe", AirProbe("Shelf", "fridge/air", InCave(1)));
  const auto air = [&](rules::Millis span, double degrees) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Reads(degrees, 85, 2);
    }
  };
  air(40min, 12.5);
  air(18min, 17.5);
  REQUIRE(heard.house->TheWatch().View(1).state == rules::CaveState::kOutOfBand);
  CHECK_THAT(heard.RoundText(), Says("Fridge is out of band, warm."));
  air(2min, 13);
  REQUIRE(heard.house->TheWatch().View(1).state == rules::CaveState::kOutOfBand);
  CHECK_THAT(heard.RoundText(), !Says("Fridge is out of band") && Says("13.0 °C by the last reading"));
}

TEST_CASE(
    "what is over says how far it came: a warm hour with its air, a power cut with what a wheel can have become") {
  Heard heard;
  heard.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  heard.house->Do("probe", AirProbe("Shelf", "fridge/air", InCave(1)));
  heard.house->Do("probe", AirProbe("Door", "fridge/door", InCave(1)));
  const auto air = [&](rules::Millis span, double degrees) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      for (const rules::ChannelId first : {2, 4}) heard.house->Reads(degrees, 85, first);
    }
  };
  air(10h, 12.5);
  SECTION("a warm hour") {
    air(2h, 15.2);
    air(3h, 12.5);
    CHECK_THAT(heard.RoundText(), Says("Fridge: too warm to ") && Says("Furthest 15.2 °C"));
  }
  SECTION("a kind that a keeper judges no more while it stands: the air may be as it was") {
    air(2h, 15.2);
    heard.house->Do(
        "watching",
        {{"cave", 1}, {"settings", json::object{}}, {"off", json::array{"too warm"}}, {"ready_cheese", false}});
    air(5min, 15.2);
    CHECK_THAT(heard.RoundText(), Says("Fridge: too warm. Not judged since 21:"));
    CHECK_THAT(NowText(Words::English(), heard.house->See("/api/caves")),
               Says("Fridge too warm, not judged since 21:"));
  }
  SECTION("a power cut") {
    for (int minute = 0; minute < 150; ++minute) heard.GoTo(10h + minute * 1min);
    air(3h, 15.2);
    CHECK_THAT(heard.RoundText(), Says("perhaps without power to ") && Says("14.6 °C"));
  }
}

TEST_CASE("a list before the day turns comes on the night in which the clocks go back, too, and once") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "03:30"}});
  heard.Start(kThursday + std::chrono::days{226});  // Saturday 24 October, 10:00 summer time
  heard.house->StepTo(heard.house->Now() + 18h + 29min);
  heard.house->Settle();
  CHECK(heard.Lists() == 0);
  for (const rules::Millis more : {rules::Millis{2min}, rules::Millis{40min}}) {
    heard.house->StepTo(heard.house->Now() + more);
    heard.house->Settle();
    CHECK(heard.Lists() == 1);
  }
}

TEST_CASE("a list whose hour passed while nobody watched comes late rather than never") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.Start(kThursday + 26h);
  heard.house->StepTo(heard.house->Now() + 1min);
  heard.house->Settle();
  CHECK(heard.Lists() == 1);
}

TEST_CASE("a list that could not go for more than an hour is made anew when it can, and bears that hour") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", nullptr}});
  heard.GoTo(20h);
  heard.TakesAll();  // its probe, which said nothing
  heard.Net(false);
  heard.Gas(8000, 2h);
  REQUIRE(heard.ListRows() == Texts{"morning waiting"});
  heard.Gas(600, 60min);
  REQUIRE(heard.ListRows() == Texts{"morning waiting"});
  heard.TakesAll();
  heard.Net(true);
  heard.Gas(600, 60min);
  REQUIRE(heard.ListRows() == Texts{"morning sent"});
  const auto list = std::ranges::find_if(heard.post.sent, [](const Parcel& parcel) {
    return parcel.message.find("X-Rindwatch: round") != std::string::npos;
  });
  CHECK_THAT(list->message, !Says("Nobody has taken it yet") && Says("carbon dioxide high to 07:"));
  CHECK_THAT(list->message, !Says("06:30:") && Says("Date: Fri, 13 Mar 2026 08:"));
  // And told what was over until then.
  heard.GoTo(46h);
  REQUIRE(heard.ListRows() == Texts{"morning sent", "morning sent"});
  CHECK_THAT(heard.post.sent.back().message, !Says("carbon dioxide high"));
}

TEST_CASE("a list that comes late does not go into quiet hours; one that is wanted in them does") {
  Heard heard;
  const json::object quiet{{"from", "20:00"}, {"to", "07:00"}};
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", nullptr}, {"quiet", quiet}});
  SECTION("its hour lies in them") {
    heard.GoTo(21h + 35min);
    CHECK(heard.ListRows() == Texts{"morning sent"});
  }
  SECTION("it waited since the morning: its day is over before they are") {
    heard.GoTo(21h);
    heard.Net(false);
    heard.GoTo(36h);
    heard.Net(true);
    heard.GoTo(42h);
    CHECK(heard.ListRows() == Texts{"morning waiting"});
    heard.GoTo(46h);
    CHECK(heard.ListRows() == Texts{"morning given up", "morning sent"});
    CHECK(heard.Lists() == 1);
  }
  SECTION("they end before its day does") {
    heard.GoTo(21h);
    heard.Net(false);
    heard.GoTo(21h + 40min);
    heard.Hears("IH", 1,
                {{"list", "daily"},
                 {"morning", "06:30"},
                 {"evening", nullptr},
                 {"quiet", {{"from", "07:00"}, {"to", "10:00"}}}});
    heard.GoTo(22h + 10min);
    heard.Net(true);
    heard.GoTo(24h + 55min);
    CHECK(heard.ListRows() == Texts{"morning waiting"});
    heard.GoTo(25h + 10min);
    CHECK(heard.ListRows() == Texts{"morning sent"});
  }
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
  heard.TakesAll();  // its probe, which says no more
  CHECK_THAT(told(22h), Says("\nEarlier, over since the last list\n"));
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
  Heard heard{3h};
  heard.WheelsOfDawn();
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
  Heard heard{3h};
  heard.WheelsOfDawn();
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
  Heard heard{3h};
  heard.WheelsOfDawn();
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}});
  heard.GoTo(3h);
  heard.Gas(8000, 14h);
  heard.Gas(600, 60min);
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.GoTo(22h);
  REQUIRE(heard.Lists() == 1);
  CHECK_THAT(heard.post.sent.back().message, Says("Earlier, over since the last list") && Says("Thursday 12:01") &&
                                                 Says("Fridge: carbon dioxide high to Friday 02:"));
}

TEST_CASE("what began in the evening and ended by day is news of the day, with the day on which it began") {
  Heard heard{3h};
  heard.WheelsOfDawn();
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
  CHECK_THAT(evening, !Says("In the night") && !Says("Earlier, over since the last list"));
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
  CHECK_THAT(heard.post.sent.back().message, Says("Earlier, over since the last list"));
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

TEST_CASE("a day without work has a list all the same where an alarm waits for a hand") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "work"}, {"morning", "06:30"}, {"evening", nullptr}});
  const auto next_morning = [&heard] {
    heard.GoTo(21h + 31min);
    return heard.ListRows();
  };
  heard.Gas(9000, 30min);
  heard.GoTo(20h);
  SECTION("it waits") {
    CHECK(next_morning() == Texts{"morning sent"});
    CHECK_THAT(heard.post.Subjects().back(), Says("carbon dioxide"));
    CHECK_THAT(heard.post.sent.back().message, Says("Nothing to do today."));
  }
  SECTION("somebody has taken it in hand") {
    heard.TakesAll();
    CHECK(next_morning().empty());
  }
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

TEST_CASE("wheels that came after the morning's list make a second one while something of them is open") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "work"}, {"morning", "06:30"}, {"evening", "18:00"}});
  heard.GoTo(8h);
  json::object bloomies = PressedWheels(2, InCave(1), 1);
  bloomies["plan"] = "bloomy";
  heard.house->Do("enter", bloomies);
  SECTION("open: it comes, once") {
    heard.GoTo(9h + 1min);
    REQUIRE(heard.ListRows() == Texts{"evening sent"});
    CHECK_THAT(heard.post.Subjects().back(), Says("This evening:"));
    heard.GoTo(12h);
    CHECK(heard.ListRows() == Texts{"evening sent"});
  }
  SECTION("done: it does not") {
    heard.house->Do("care", Care({1, 2}, {"salt", "turn"}));
    heard.GoTo(9h + 1min);
    CHECK(heard.ListRows().empty());
  }
  SECTION("nor on the day after, whose morning told them") {
    heard.GoTo(24h);
    REQUIRE(heard.ListRows().size() == 2);
    heard.GoTo(34h);
    CHECK(heard.ListRows() == Texts{"evening sent", "morning sent"});
  }
}

TEST_CASE("wheels that were entered before the morning's list and arrive after it are told by the second one") {
  Heard heard{4h};
  heard.Hears("IH", 1, {{"list", "work"}, {"morning", "06:30"}, {"evening", "18:00"}});
  heard.GoTo(-3h);
  heard.TakesAll();  // its probe, which says nothing
  heard.GoTo(-1h);
  REQUIRE(heard.ListRows().empty());
  json::object bloomies = PressedWheels(2, InCave(1), 1);
  bloomies["plan"] = "bloomy";
  bloomies["tapped_at"] = ToMillis(kThursday - 3h);
  heard.house->Do("enter", bloomies);
  heard.GoTo(9h + 1min);
  CHECK(heard.ListRows() == Texts{"evening sent"});
}

TEST_CASE("a list says on the day that wheels have become ready, and when those days end, and on no other") {
  Heard heard;
  json::object bloomies = PressedWheels(2, InCave(1), 19);  // ready on their days 21 to 60
  bloomies["plan"] = "bloomy";
  heard.house->Do("enter", bloomies);
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", nullptr}});
  const auto list_of = [&](int day) {
    heard.GoTo(day * 24h);
    return heard.post.sent.back().message;
  };
  CHECK_THAT(list_of(1), !Says("ready"));
  CHECK_THAT(list_of(2), Says("By the plan ready from today, to Wednesday 22 April: 2 bloomies,") && Says("Fridge."));
  CHECK_THAT(heard.RoundText(), Says("By the plan ready from today"));
  CHECK_THAT(list_of(3), !Says("ready"));
  // The list of the day itself reached nobody: the next one tells it, once.
  heard.GoTo(40 * 24h);
  heard.Net(false);
  heard.GoTo(42 * 24h - 5h);
  heard.Net(true);
  for (const int day : {42, 43, 44}) heard.GoTo(day * 24h);
  const auto tells = [](const Parcel& parcel) {
    return parcel.message.find("days of the plan end") != std::string::npos;
  };
  REQUIRE(std::ranges::count_if(heard.post.sent, tells) == 1);
  CHECK_THAT(std::ranges::find_if(heard.post.sent, tells)->message,
             Says("The ready days of the plan ended Wednesday: 2 bloomies, Fridge."));
}

TEST_CASE("of wheels that are held no list says that they are ready") {
  Heard heard;
  json::object bloomies = PressedWheels(2, InCave(1), 20);
  bloomies["plan"] = "bloomy";
  heard.house->Do("enter", bloomies);
  heard.house->Do("hold", {{"wheels", Ids({1})}, {"held", true}, {"why", "slime"}});
  heard.Hears("IH", 1, {{"list", "daily"}, {"morning", "06:30"}, {"evening", nullptr}});
  heard.GoTo(24h);
  CHECK_THAT(heard.post.sent.back().message, Says("ready from today") && Says("1 bloomy, Fridge."));
  // What was let go is told by the list after it, once.
  heard.GoTo(50h);
  heard.house->Do("hold", {{"wheels", Ids({1})}, {"held", false}, {"why", ""}});
  heard.GoTo(72h);
  CHECK_THAT(heard.post.sent.back().message, Says("ready since Friday") && Says("1 bloomy, Fridge."));
  heard.GoTo(96h);
  CHECK_THAT(heard.post.sent.back().message, !Says("ready since"));
}

namespace {

// A fridge with two thermometers and a band to 14 degrees; whoever hears is quiet from 22:00 to 06:00.
struct Night : Heard {
  explicit Night(const json::object& list) {
    house->Do("service", {{"probe", 1}, {"out", true}});
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    house->Do("probe", AirProbe("Door", "fridge/door", InCave(1)));
    house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
    json::object hears{{"quiet", {{"from", "22:00"}, {"to", "06:00"}}}, {"evening", nullptr}};
    for (const auto& [key, value] : list) hears[key] = value;
    Hears("IH", 1, hears);
  }
  // From 09:00 on; `both`: the first one speaks as well.
  void Air(double degrees, rules::Millis until, bool both = true) {
    while (house->Now() < kThursday + until) {
      house->StepTo(house->Now() + 3min);
      ++said;
      const double air = degrees + 0.1 * (said % 5), damp = 85 + said % 3;
      if (both) house->Reads(air, damp, 2);
      house->Reads(air, damp, 4);
      house->Settle();
    }
  }
  std::size_t Letters() const { return post.sent.size() - Lists(); }
  int said = 0;
};

}  // namespace

TEST_CASE("what waited for the end of quiet hours is told by a list that comes then or soon after, and by no letter") {
  const char* const hour = GENERATE("06:00", "06:30");
  Night night({{"list", "daily"}, {"morning", hour}});
  night.Air(12, 14h);
  night.Air(12, 21h - 5min, false);
  REQUIRE(night.house->TheWatch().Engine().Alarms().size() == 1);
  night.Air(12, 23h, false);
  CHECK(night.Lists() == 1);
  CHECK(night.Letters() == 0);
  CHECK_THAT(night.post.sent.front().message, Says("Fridge probe silent"));
  SECTION("over a restart neither") {
    night.Start(night.house->Now() + 1min);
    night.Air(12, 24h, false);
    CHECK(night.Letters() == 0);
    CHECK(night.Lists() == 1);
  }
}

TEST_CASE("what waited for the end of quiet hours goes then where no list comes soon that tells it") {
  const json::object list =
      GENERATE(json::object{{"list", "never"}}, json::object{{"list", "work"}, {"morning", "06:30"}},
               json::object{{"list", "daily"}, {"morning", "07:00"}});
  Night night(list);
  night.Air(12, 14h);
  night.Air(12, 21h + 6min, false);
  CHECK(night.Letters() == 1);
  CHECK(night.Lists() == 0);
}

TEST_CASE("an end that waited for the morning is told by its list, and by no letter beside it") {
  Night night({{"list", "daily"}, {"morning", "06:30"}});
  night.Air(12, 4h);
  night.Air(17, 12h);
  REQUIRE(night.Letters() > 0);
  night.Air(12, 20h);
  REQUIRE(night.house->TheWatch().Engine().Alarms().front().over);
  const std::size_t before = night.Letters();
  night.Air(12, 22h);
  CHECK(night.Letters() == before);
  REQUIRE(night.Lists() == 1);
  CHECK_THAT(night.post.sent.back().message, Says("too warm to "));
}

TEST_CASE("a first word that fell due while the air was back inside is in the list, and no letter") {
  Night night({{"list", "daily"}, {"morning", "07:00"}});
  night.Air(12, 18h);
  while (night.house->TheWatch().Engine().Alarms().empty()) night.Air(14.1, night.house->Now() - kThursday + 3min);
  REQUIRE(night.house->Now() < kThursday + 20h + 30min);
  REQUIRE(night.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kWatch);
  night.Air(12, 24h);
  REQUIRE(night.house->TheWatch().Engine().Alarms().front().over);
  CHECK(night.Letters() == 0);
  REQUIRE(night.Lists() == 1);
  CHECK_THAT(night.post.sent.front().message, Says("too warm"));
}

}  // namespace rindwatch
