#include "web/complaint.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

TEST_CASE("a complaint has one shape") {
  const Response response =
      Complain(422, {"The day has not come yet.", "today or earlier", "2027-01-01", "Choose a day."});
  CHECK(response.status == 422);
  CHECK(response.content_type == "application/json");
  CHECK(
      response.body ==
      R"({"error":{"what":"The day has not come yet.","expected":"today or earlier","found":"2027-01-01","do":"Choose a day."}})");
}

TEST_CASE("the part that it is about is named if there is one") {
  CHECK(Complain(422, {"a", "b", "c", "d", "made"}).body ==
        R"({"error":{"what":"a","expected":"b","found":"c","do":"d","field":"made"}})");
  CHECK(Complain(400, {"a"}).body == R"({"error":{"what":"a","expected":"","found":"","do":""}})");
}

TEST_CASE("what was found is shown whatever bytes it holds") {
  const auto shown = [](const std::string& found) {
    const std::string body = Complain(400, {"", "", found, ""}).body;
    const std::string begin = R"("found":")";
    const std::size_t at = body.find(begin) + begin.size();
    return body.substr(at, body.find(R"(","do")") - at);
  };
  CHECK(shown("plain") == "plain");
  CHECK(shown("\xc3\xa9 \xe2\x82\xac \xf0\x9f\xa7\x80") == "\xc3\xa9 \xe2\x82\xac \xf0\x9f\xa7\x80");
  CHECK(shown("a\"b\\") == "a\\\"b\\\\");
  // RFC 3629 section 3 and 4: what is not UTF-8.
  CHECK(shown("\xff\xfe") == "??");
  CHECK(shown("\xc3") == "?");                 // cut short
  CHECK(shown("\xc0\xaf") == "??");            // overlong
  CHECK(shown("\xe0\x80\xaf") == "???");       // overlong
  CHECK(shown("\xed\xa0\x80") == "???");       // a surrogate
  CHECK(shown("\xf4\x90\x80\x80") == "????");  // beyond U+10FFFF
  CHECK(shown(std::string("a\0b\n", 4)) == "a?b?");
  CHECK(shown(std::string(100000, 'x')).size() == 404);
}
