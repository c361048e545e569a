// When an act happened, by which clock, and what makes a late entry.
#include "daemon/book/desk.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::Instant;
using rules::Millis;

struct Sent {
  Millis tapped{0};               // from now, by the phone's clock
  std::optional<Millis> said;     // likewise
  std::optional<Millis> sent_at;  // likewise; none: no header
};

std::variant<Judged, ActFault> Judge(const Sent& sent) {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("box")));
  json::object act = keeping.Act("care", Care({1}, {"turn"}));
  act["tapped_at"] = ToMillis(keeping.now + sent.tapped);
  if (sent.said) act["said_at"] = ToMillis(keeping.now + *sent.said);
  return keeping.Judge(act, sent.sent_at ? std::optional(keeping.now + *sent.sent_at) : std::nullopt);
}

JournalLine LineOf(const Sent& sent) {
  auto judged = Judge(sent);
  if (const auto* fault = std::get_if<ActFault>(&judged)) FAIL(fault->what);
  return std::get<Judged>(judged).line;
}

ActFault FaultOf(const Sent& sent) {
  auto judged = Judge(sent);
  REQUIRE(std::holds_alternative<ActFault>(judged));
  return std::get<ActFault>(judged);
}

TEST_CASE("an act is of the instant of its tap") {
  const JournalLine line = LineOf({.tapped = -5min, .said = {}, .sent_at = 0min});
  CHECK(line.at == kThursday - 5min);
  CHECK_FALSE(line.late_entry);
  CHECK(line.received_at == kThursday);
  CHECK(line.tapped_at == kThursday - 5min);
  CHECK_FALSE(line.said_at);
  CHECK(line.sent_at == kThursday);
}

TEST_CASE("the earlier time that the keeper names counts") {
  CHECK(LineOf({.tapped = 0min, .said = -3h, .sent_at = 0min}).at == kThursday - 3h);
}

TEST_CASE("only what is said to be more than ten minutes before the tap is a late entry") {
  CHECK_FALSE(LineOf({.tapped = -1min, .said = -1min, .sent_at = 0min}).late_entry);
  CHECK_FALSE(LineOf({.tapped = -1min, .said = -11min, .sent_at = 0min}).late_entry);
  CHECK(LineOf({.tapped = -1min, .said = -11min - 1ms, .sent_at = 0min}).late_entry);
}

TEST_CASE("slow sending is never a late entry, however slow") {
  const JournalLine line = LineOf({.tapped = -72h, .said = {}, .sent_at = 0min});
  CHECK_FALSE(line.late_entry);
  CHECK(line.at == kThursday - 72h);
}

TEST_CASE("late entry is judged by the phone's clock alone, whatever it shows") {
  const JournalLine late = LineOf({.tapped = 5h, .said = 4h, .sent_at = 5h});
  CHECK(late.late_entry);
  CHECK(late.at == kThursday - 1h);
}

TEST_CASE("the difference of the two clocks at the sending moves the act") {
  SECTION("a phone an hour ahead") {
    const JournalLine line = LineOf({.tapped = 1h - 10min, .said = {}, .sent_at = 1h});
    CHECK(line.at == kThursday - 10min);
  }
  SECTION("a phone years behind") {
    const JournalLine line = LineOf({.tapped = -50'000h - 10min, .said = {}, .sent_at = -50'000h});
    CHECK(line.at == kThursday - 10min);
  }
  SECTION("without the header both clocks are taken for equal") {
    CHECK(LineOf({.tapped = -10min, .said = {}, .sent_at = {}}).at == kThursday - 10min);
  }
}

TEST_CASE("an act in the future is refused; two minutes of slack between two clocks are none") {
  CHECK(LineOf({.tapped = 2min, .said = {}, .sent_at = {}}).at == kThursday);
  const ActFault fault = FaultOf({.tapped = 2min + 1ms, .said = {}, .sent_at = {}});
  CHECK(fault.field == "tapped_at");
  CHECK_THAT(fault.what, Says("lies in the future"));
  CHECK_THAT(fault.what, Says(rules::ToText(kThursday)));
  CHECK_THAT(fault.todo, Says("phone's clock"));
  CHECK(fault.found == rules::ToText(kThursday + 2min + 1ms));
}

TEST_CASE("nothing is said to have been done after it was tapped") {
  CHECK(FaultOf({.tapped = -1h, .said = -1h + 1ms, .sent_at = 0min}).field == "said_at");
}

TEST_CASE("a care said to have been done earlier was not known before its tap") {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(1, NewCave("box")));
  keeping.now += 6h;
  json::object act = keeping.Act("care", Care({1}, {"turn"}));
  act["said_at"] = ToMillis(keeping.now - 4h);
  keeping.Do(act);
  const auto& done = keeping.Wheel(1).History().acts.back();
  CHECK(done.at == keeping.now - 4h);
  CHECK(done.known_from == keeping.now);
}

TEST_CASE("what was answered holds the id, the act's time by this machine's clock and whether it is a late entry") {
  const JournalLine line = LineOf({.tapped = 0min, .said = -1h, .sent_at = 0min});
  const json::object answer = json::parse(line.answer).as_object();
  CHECK(answer.at("id").as_string() == line.id);
  CHECK(answer.at("at").to_number<std::int64_t>() == ToMillis(kThursday - 1h));
  CHECK(answer.at("late_entry").as_bool());
}

}  // namespace
}  // namespace rindwatch
