#include "daemon/notices/notices.hpp"

#include "daemon/api/leaps.hpp"
#include "daemon/book/desk.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

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

TEST_CASE("a clock that was set forward is told for a day, in the head and in the list; one that merely goes is not") {
  Heard heard;
  heard.house->Context().notices = heard.notices.get();
  const auto troubles = [&] {
    std::vector<std::string> told;
    const json::object caves = heard.house->See("/api/caves");
    for (const json::value& trouble : caves.at("head").at("troubles").as_array())
      if (trouble.at("kind") == "clock") told.emplace_back(trouble.at("text").as_string());
    return told;
  };
  heard.Gas(600, 3h);
  heard.GoTo(30h);  // as a loop that was held up
  heard.notices->LookAtClock();
  CHECK(troubles().empty());
  const rules::Instant now = heard.house->Now();
  const rules::Millis monotonic = heard.house->TheClock().Monotonic();
  heard.notices->ShowClock(now - 24h, monotonic - 5s);
  heard.notices->ShowClock(now, monotonic);
  REQUIRE(troubles().size() == 1);
  CHECK_THAT(troubles().front(),
             Says("From yesterday 15:00 to 15:00 this machine slept, or its clock was set forward by 24 h"));
  CHECK_THAT(heard.RoundText(), Says("this machine slept"));
  heard.GoTo(53h);
  heard.notices->LookAtClock();
  CHECK(troubles().size() == 1);
  heard.GoTo(55h);
  CHECK(troubles().empty());
}

namespace {

// The subjects of the letters that tell of a clock.
Texts OfClock(const Heard& heard) {
  Texts subjects = heard.post.Subjects();
  std::erase_if(subjects, [](const std::string& subject) { return subject.find("clock") == std::string::npos; });
  return subjects;
}

}  // namespace

TEST_CASE("a clock that was set forward is a line of the journal, and told by one letter, also over a restart") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Hears("TR", 2, {{"list", "never"}, {"least", "act"}});
  heard.Gas(600, 30min);
  const rules::Instant now = heard.house->Now();
  const rules::Millis monotonic = heard.house->TheClock().Monotonic();
  heard.notices->ShowClock(now - 24h, monotonic - 5s);
  heard.notices->ShowClock(now, monotonic);
  const auto lines = [&] {
    const json::object page = heard.house->See("/api/journal");
    std::vector<json::object> leaps;
    for (const json::value& line : page.at("lines").as_array())
      if (line.at("kind") == "leapt") leaps.push_back(line.as_object());
    return leaps;
  };
  const auto is_told = [&] {
    heard.house->Context().notices = heard.notices.get();
    return json::serialize(heard.house->See("/api/caves").at("head").at("troubles")).find("machine slept") !=
           std::string::npos;
  };
  heard.Gas(600, 5min);
  REQUIRE(lines().size() == 1);
  CHECK(lines().front().at("unwatched").at("from").to_number<std::int64_t>() == ToMillis(now - 24h));
  CHECK(lines().front().at("unwatched").at("to").to_number<std::int64_t>() == ToMillis(now));
  CHECK(OfClock(heard) == Texts{"This machine slept, or its clock was set forward by 24 h."});
  CHECK(heard.To() == Texts{"IH@cave.example"});
  CHECK(is_told());
  heard.Start(heard.house->Now() + 1min);
  heard.Gas(600, 1h);
  CHECK(is_told());
  CHECK(heard.post.sent.size() == 1);
  CHECK(lines().size() == 1);
  heard.GoTo(26h);
  CHECK_FALSE(is_told());
  CHECK(OfClock(heard).size() == 1);
}

TEST_CASE("that a clock was set forward waits for the end of quiet hours, and is kept where the disk was full") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}, {"quiet", {{"from", "09:00"}, {"to", "12:00"}}}});
  heard.Gas(600, 10min);
  heard.house->TheStore().refusing = true;
  const rules::Instant now = heard.house->Now();
  heard.notices->ShowClock(now - 5h, heard.house->TheClock().Monotonic() - 5s);
  heard.notices->ShowClock(now, heard.house->TheClock().Monotonic());
  heard.GoTo(30min);
  heard.house->TheStore().refusing = false;
  heard.GoTo(2h);
  CHECK(OfClock(heard).empty());
  const std::vector<JournalLine> journal = heard.house->Journal();
  CHECK(std::ranges::count(journal, "leapt", &JournalLine::kind) == 1);
  heard.GoTo(3h + 2min);
  CHECK(OfClock(heard) == Texts{"This machine slept, or its clock was set forward by 5 h."});
}

TEST_CASE(
    "that a clock was set forward is told to nobody on holiday while another one hears it; to all if all are away") {
  Heard heard;
  const json::array days{{{"from", "2026-03-12"}, {"back", "2026-03-13"}}};
  heard.Hears("IH", 1, {{"list", "never"}, {"holidays", days}});
  heard.Hears("TR", 2, {{"list", "never"}});
  heard.Gas(600, 10min);
  const bool all = GENERATE(false, true);
  if (all) heard.Hears("TR", 2, {{"list", "never"}, {"holidays", days}});
  const rules::Instant now = heard.house->Now();
  heard.notices->ShowClock(now - 5h, heard.house->TheClock().Monotonic() - 5s);
  heard.notices->ShowClock(now, heard.house->TheClock().Monotonic());
  heard.Gas(600, 2h);
  CHECK(heard.To() == (all ? Texts{"IH@cave.example", "TR@cave.example"} : Texts{"TR@cave.example"}));
  // Who is back within the day for which it is told hears of it then.
  heard.Gas(600, 18h);
  CHECK(heard.post.sent.size() == 2);
  CHECK(std::ranges::count(heard.To(), "IH@cave.example") == 1);
}

TEST_CASE("of two times that a clock went on in quiet hours each is told when they end, and each is kept") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}, {"quiet", {{"from", "09:00"}, {"to", "12:00"}}}});
  heard.Gas(600, 10min);
  heard.house->TheStore().refusing = true;
  const auto leap = [&](rules::Millis by) {
    const rules::Instant now = heard.house->Now();
    heard.notices->ShowClock(now - by, heard.house->TheClock().Monotonic() - 5s);
    heard.notices->ShowClock(now, heard.house->TheClock().Monotonic());
    heard.house->Settle();
  };
  leap(5h);
  heard.house->StepTo(heard.house->Now() + 20s);
  leap(7h);
  heard.GoTo(30min);
  heard.house->TheStore().refusing = false;
  heard.GoTo(2h);
  CHECK(OfClock(heard).empty());
  const std::vector<JournalLine> journal = heard.house->Journal();
  CHECK(std::ranges::count(journal, "leapt", &JournalLine::kind) == 2);
  heard.GoTo(3h + 2min);
  // Both stand in one letter.
  REQUIRE(OfClock(heard).size() == 1);
  CHECK_THAT(OfClock(heard).front(), Says("set forward by 5 h") && Says("And one more"));
  CHECK_THAT(heard.post.sent.back().message, Says("set forward by 7 h"));
  heard.house->Context().notices = heard.notices.get();
  const std::string troubles = json::serialize(heard.house->See("/api/caves").at("head").at("troubles"));
  CHECK_THAT(troubles, Says("set forward by 5 h") && Says("set forward by 7 h"));
}

TEST_CASE("a probe that fell due while a clock went on is told as silent since then, not since its last word") {
  Heard heard;
  heard.Gas(600, 2h);
  // The clock went on by a day while the loop was held up, and nothing was said meanwhile.
  const rules::Instant before = heard.house->Now();
  heard.notices->LookAtClock();
  heard.GoTo(26h);
  const rules::Instant now = heard.house->Now();
  heard.notices->ShowClock(before, heard.house->TheClock().Monotonic() - 5s);
  heard.notices->ShowClock(now, heard.house->TheClock().Monotonic());
  heard.house->Settle();
  heard.Gas(600, 2h);
  const auto is_told_since = [&] {
    const json::object page = heard.house->See("/api/alarms");
    std::string told;
    for (const json::value& alarm : page.at("past").as_array()) told += json::serialize(alarm);
    UNSCOPED_INFO(told);
    return told.find("\"told_since\":" + std::to_string(ToMillis(now))) != std::string::npos;
  };
  CHECK(is_told_since());
  // However much is written after it, and over a start.
  for (std::size_t line = 0; line < Book::kMostNewest + 10; ++line) heard.house->Do("note", {{"text", "still here"}});
  CHECK(is_told_since());
  heard.Start(heard.house->Now() + 1min);
  CHECK(is_told_since());
  CHECK(heard.notices->Leaps().size() == 1);
}

TEST_CASE("a clock that was a day ahead for minutes and came back tells no absence until tomorrow") {
  Heard heard;
  heard.house->Do("probe", AirProbe("Shelf", "fridge/air", InCave(1)));
  const auto air = [&](rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Reads(12, 85, 2);
    }
  };
  air(1h);
  const Leap leap{heard.house->Now(), heard.house->Now() + 24h};
  heard.notices->ShowClock(leap.from, heard.house->TheClock().Monotonic() - 5s);
  heard.notices->ShowClock(leap.to, heard.house->TheClock().Monotonic());
  heard.house->Settle();
  heard.notices->ShowClock(leap.from, heard.house->TheClock().Monotonic());
  air(1h);
  heard.GoTo(2h + 4min);
  CHECK_THAT(heard.RoundText(), !Says("nobody watched") && !Says("tomorrow"));
  heard.GoTo(2h + 40min);
  CHECK_THAT(heard.RoundText(), Says("nknown") && !Says("nobody watched") && !Says("tomorrow"));
  // Nor once that hour has come, and the watch has begun anew with a clock that is right.
  Book book(Vienna());
  book.Remember(LeapLine(leap));
  REQUIRE(LeapsIn(book).size() == 1);
  book.Remember(OwnLine("started", "started again", {{"ahead_until", ToMillis(leap.to)}}, leap.from + 13min));
  CHECK(LeapsIn(book).empty());
}

TEST_CASE("an end that a letter tells, which was under way when it was to be told by itself, is told once") {
  Heard heard;
  heard.Hears("IH", 1, {{"list", "never"}});
  heard.Net(false);
  heard.Gas(8000, 12min);
  REQUIRE(heard.notices->Waiting() == 1);
  heard.StartHouse(heard.house->Now());
  heard.Gas(600, 60min);
  heard.Net(true);
  heard.post.answers = false;
  heard.StartNotices();
  heard.house->Settle();
  REQUIRE(heard.post.sent.size() == 1);
  CHECK_THAT(heard.post.Subjects().front(), Says("carbon dioxide high") && Says("Over"));
  heard.Gas(600, 1min);
  REQUIRE(heard.notices->Waiting() == 2);
  heard.post.answers = true;
  heard.post.hanging.front()(heard.post.answer);
  heard.Gas(600, 1h);
  CHECK(heard.post.sent.size() == 1);
  heard.house->Context().notices = heard.notices.get();
  const json::array log = heard.house->See("/api/notices").at("log").as_array();
  REQUIRE(log.size() == 2);
  CHECK(log.front().at("kind") == "over");
  CHECK(log.front().at("state") == "folded");
  CHECK(log.front().at("within") == log.back().at("number"));
  // Nor after a start.
  heard.Start(heard.house->Now() + 1min);
  heard.Gas(600, 1h);
  CHECK(heard.post.sent.size() == 1);
}

}  // namespace rindwatch
