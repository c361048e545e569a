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
  SECTION("nobody hears there any more") {
    heard.Hears("IH", 1, {{"mail", json::array{"ih@other.example"}}});
    CHECK(Troubles(heard) == "[]");
  }
}

}  // namespace rindwatch
