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

namespace {

// The subjects of what reached an address.
Texts At(const Heard& heard, const std::string& address) {
  Texts at;
  const Texts all = heard.post.Subjects();
  for (std::size_t i = 0; i < all.size(); ++i)
    if (heard.post.sent[i].to == address) at.push_back(all[i]);
  return at;
}

struct TwoAddresses : Heard {
  explicit TwoAddresses(json::object more = {}) {
    more["mail"] = json::array{"one@cave.example", "two@cave.example"};
    Hears("IH", 1, std::move(more));
  }
};

}  // namespace

TEST_CASE("each of a keeper's two addresses hears the end once, though one of them had refused that it rang") {
  TwoAddresses heard;
  heard.post.unlike["two@cave.example"] = {Outcome::Kind::kNever, "no such box"};
  heard.Gas(6000, 10min);
  const auto stands = [&] { return !heard.house->TheWatch().Engine().Alarms().front().over; };
  while (stands()) heard.Gas(600, 1min);
  heard.post.unlike.clear();
  heard.Gas(600, 2h);
  REQUIRE(At(heard, "one@cave.example").size() == 2);
  const Texts two = At(heard, "two@cave.example");
  REQUIRE(two.size() == 1);
  CHECK_THAT(two.front(), Says("Over: Fridge carbon dioxide high"));
}

TEST_CASE("an address that heard in one letter that it rang and that it is over is not told the end once more") {
  TwoAddresses heard({{"quiet", {{"from", "10:00"}, {"to", "14:00"}}}});
  heard.post.unlike["two@cave.example"] = {Outcome::Kind::kNotNow, "nobody answers"};
  heard.Gas(600, 50min);
  heard.Gas(6000, 15min);
  // Nobody judges it any more: what was never told does not wait for the morning.
  heard.house->Do("unhang", {{"probe", 1}});
  REQUIRE(heard.house->TheWatch().Engine().Alarms().front().over);
  heard.post.unlike.clear();
  heard.GoTo(2h);
  const Texts two = At(heard, "two@cave.example");
  REQUIRE(two.size() == 1);
  if (GENERATE(true, false)) heard.Start(heard.house->Now());
  heard.GoTo(8h);
  CHECK(At(heard, "two@cave.example") == two);
  CHECK(At(heard, "one@cave.example").size() == 2);
}

}  // namespace rindwatch
