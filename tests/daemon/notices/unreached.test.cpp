// An address that takes nothing: a typing error in it must not read as being watched. Invented.
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string Troubles(Heard& heard) {
  heard.house->Context().notices = heard.notices.get();
  return json::serialize(heard.house->See("/api/round").at("head").at("troubles"));
}

}  // namespace

TEST_CASE("an address that refuses what is sent to it is said on every place, until something goes through") {
  Heard heard;
  heard.Hears("IH", 1);
  CHECK(Troubles(heard) == "[]");
  heard.post.answer = {Outcome::Kind::kNever, "no such box"};
  heard.Gas(16200, 10min);
  CHECK_THAT(Troubles(heard), Says("No notice reaches IH@cave.example"));
  SECTION("also after a restart") {
    heard.house->Settle();
    heard.Start(heard.house->Now());
    CHECK_THAT(Troubles(heard), Says("No notice reaches IH@cave.example"));
  }
  SECTION("something goes through") {
    heard.post.answer = {Outcome::Kind::kSent, "took it"};
    heard.Gas(16200, 30min);
    CHECK(Troubles(heard) == "[]");
  }
  SECTION("nobody hears there any more, and what was refused goes to the address in its place") {
    heard.post.answer = {Outcome::Kind::kSent, "took it"};
    heard.post.sent.clear();
    heard.Hears("IH", 1, {{"mail", json::array{"ih@other.example"}}});
    CHECK(Troubles(heard) == "[]");
    heard.Gas(16200, 2min);
    REQUIRE(heard.post.sent.size() == 1);
    CHECK(heard.To() == Texts{"ih@other.example"});
    CHECK_THAT(heard.post.Subjects().front(), Says("carbon dioxide high"));
    SECTION("and nothing of it goes twice") {
      heard.Hears("IH", 1, {{"mail", json::array{"ih@other.example", "ih@third.example"}}});
      heard.Gas(16200, 2min);
      CHECK(heard.post.sent.size() == 1);
    }
  }
}

TEST_CASE("a call that reached nobody until it was over is told once, and not in a quiet hour") {
  Heard heard;
  heard.Hears("IH", 1, {{"quiet", {{"from", "10:00"}, {"to", "14:00"}}}});
  const rules::Millis before = GENERATE(rules::Millis{30min}, rules::Millis{70min});  // the quiet hours, and in them
  heard.Gas(600, before);
  heard.Net(false);
  heard.Gas(6000, 10min);
  heard.Gas(600, 65min);
  heard.Net(true);
  heard.Gas(600, 1h);
  CHECK(heard.post.Subjects() == Texts{});
  heard.Gas(600, 150min);
  const Texts subjects = heard.post.Subjects();
  CHECK(std::ranges::count_if(subjects, [](const std::string& subject) {
          return subject.find("carbon dioxide") != std::string::npos;
        }) == 1);
}

}  // namespace rindwatch
