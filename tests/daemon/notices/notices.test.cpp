#include "daemon/notices/notices.hpp"

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

}  // namespace rindwatch
