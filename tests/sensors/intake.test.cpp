#include "sensors/intake.hpp"

#include <map>

#include "tests/catch.hpp"

using namespace rindwatch::sensors;
using rindwatch::rules::ChannelKind;
using rindwatch::rules::FromMillis;
using rindwatch::rules::Has;
using rindwatch::rules::Instant;
using rindwatch::rules::Mark;
using rindwatch::rules::Millis;
using rindwatch::rules::Reading;
using rindwatch::rules::TimeSource;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

const Instant kNow = FromMillis(1'764'055'800'000);  // 2025-11-25T07:30:00Z

RouteTable Routes() {
  return RouteTable({{.filter = "plain",
                      .probe = 1,
                      .format = Format::kPlain,
                      .channels = {{1, ChannelKind::kTemperature, "", Unit::kCelsius}},
                      .time_pointer = {}},
                     {.filter = "timed",
                      .probe = 2,
                      .format = Format::kJson,
                      .channels = {{2, ChannelKind::kTemperature, "/t", Unit::kCelsius},
                                   {3, ChannelKind::kHumidity, "/h", Unit::kPercent}},
                      .time_pointer = "/at"},
                     {.filter = "shared",
                      .probe = 3,
                      .format = Format::kJson,
                      .channels = {{4, ChannelKind::kTemperature, "/cave", Unit::kCelsius}},
                      .time_pointer = {}},
                     {.filter = "shared",
                      .probe = 4,
                      .format = Format::kJson,
                      .channels = {{5, ChannelKind::kTemperature, "/box", Unit::kCelsius}},
                      .time_pointer = {}}});
}

// An intake with a store that keeps everything but what it knows by (channel, own time).
class Desk {
 public:
  explicit Desk(Known known = {}) : intake_(known) {}

  // The reading that a message with one value becomes.
  Reading Take(const Message& message) {
    const auto all = TakeAll(message);
    REQUIRE(all.size() == 1);
    return all.front();
  }
  std::vector<Reading> TakeAll(const Message& message) {
    const auto read = intake_.Look(message, routes_);
    faults = read.faults;
    if (read.batch.readings.empty()) return {};
    KeepResult result{.kept = true, .outcomes = {}};
    for (const auto& reading : read.batch.readings) result.outcomes.push_back(Judge(reading));
    auto settled = intake_.Settle(read.batch, result);
    faults.insert(faults.end(), settled.faults.begin(), settled.faults.end());
    return settled.fresh;
  }
  // As when the store refuses.
  Intake::Read OnlyLook(const Message& message) const { return intake_.Look(message, routes_); }

  std::vector<std::string> faults;

 private:
  Kept Judge(const Reading& reading) {
    if (reading.source != TimeSource::kOwn) return Kept::kNew;
    const auto [known, is_new] = own_.try_emplace({reading.channel, reading.measured_at}, reading.milli);
    if (is_new) return Kept::kNew;
    return known->second == reading.milli ? Kept::kSame : Kept::kConflict;
  }

  RouteTable routes_ = Routes();
  Intake intake_;
  std::map<std::pair<std::int64_t, Instant>, std::int64_t> own_;
};

Message Plain(std::string_view payload, Instant at = kNow) { return {.topic = "plain", .payload = payload, .at = at}; }
std::string TimedText(Instant at, const char* value = "12.5") {
  return std::string(R"({"t":)") + value + R"(,"at":)" + std::to_string(rindwatch::rules::ToMillis(at)) + "}";
}
Message Timed(std::string_view payload, Instant at = kNow) { return {.topic = "timed", .payload = payload, .at = at}; }

}  // namespace

TEST_CASE("a message without a time is measured when it arrives, and is live") {
  Desk desk;
  CHECK(desk.Take(Plain("12.5")) ==
        Reading{1, kNow, kNow, 12'500, TimeSource::kArrival, static_cast<std::uint8_t>(Mark::kLive)});
}

TEST_CASE("a time of the payload's own is the time of measuring") {
  Desk desk;
  const auto measured = kNow - seconds{30};
  CHECK(desk.Take(Timed(TimedText(measured))) ==
        Reading{2, measured, kNow, 12'500, TimeSource::kOwn, static_cast<std::uint8_t>(Mark::kLive)});
}

TEST_CASE("an own time is believed from 2020 to two minutes ahead") {
  const Instant year_2020 = FromMillis(1'577'836'800'000);  // 2020-01-01T00:00:00Z (date -u)
  const auto [own, believed] = GENERATE_COPY(table<Instant, bool>({
      {kNow + minutes{2}, true},
      {kNow + minutes{2} + Millis{1}, false},
      {kNow + hours{24 * 365}, false},
      {year_2020, true},
      {year_2020 - Millis{1}, false},
      {FromMillis(100'000'000'000), false},
  }));
  INFO(rindwatch::rules::ToText(own));
  Desk desk;
  const auto reading = desk.Take(Timed(TimedText(own)));
  CHECK(reading.source == (believed ? TimeSource::kOwn : TimeSource::kArrival));
  CHECK(reading.measured_at == (believed ? own : kNow));
  CHECK(Has(reading.marks, Mark::kUnbelievable) == !believed);
  CHECK(desk.faults.empty());
}

TEST_CASE("an unreadable own time leaves the reading to its arrival, marked, and is told") {
  Desk desk;
  const auto reading = desk.Take(Timed(R"({"t":12.5,"at":"half past seven"})"));
  CHECK(reading.source == TimeSource::kArrival);
  CHECK(Has(reading.marks, Mark::kUnbelievable));
  CHECK(Has(reading.marks, Mark::kLive));
  CHECK(desk.faults.size() == 1);
}

TEST_CASE("a reading is live for two minutes, and only the newest of its channel") {
  Desk desk;
  SECTION("age, from both sides") {
    CHECK(Has(desk.Take(Timed(TimedText(kNow - minutes{2}))).marks, Mark::kLive));
    Desk other;
    CHECK_FALSE(Has(other.Take(Timed(TimedText(kNow - minutes{2} - Millis{1}))).marks, Mark::kLive));
  }
  SECTION("an older one that comes later is not live") {
    CHECK(Has(desk.Take(Timed(TimedText(kNow - seconds{10}))).marks, Mark::kLive));
    CHECK_FALSE(Has(desk.Take(Timed(TimedText(kNow - seconds{20}))).marks, Mark::kLive));
    CHECK(Has(desk.Take(Timed(TimedText(kNow - seconds{5}))).marks, Mark::kLive));
  }
  SECTION("channels do not hide each other") {
    CHECK(Has(desk.Take(Timed(TimedText(kNow))).marks, Mark::kLive));
    CHECK(Has(desk.Take(Timed(R"({"h":85})", kNow - seconds{1})).marks, Mark::kLive));
  }
  SECTION("two in the same millisecond are both the newest") {
    CHECK(Has(desk.Take(Plain("1")).marks, Mark::kLive));
    CHECK(Has(desk.Take(Plain("2")).marks, Mark::kLive));
  }
}

TEST_CASE("a newest that was stamped by a clock gone wrong does not hide what is true") {
  Desk desk({.newest = {{1, kNow + hours{24 * 365}}}, .fingerprints = {}});
  CHECK(Has(desk.Take(Plain("1")).marks, Mark::kLive));
  CHECK(Has(desk.Take(Plain("2", kNow + seconds{1})).marks, Mark::kLive));
  // And from here on the newest is a true one again.
  CHECK_FALSE(Has(desk.Take(Plain("3", kNow)).marks, Mark::kLive));
}

TEST_CASE("what is known from before a restart decides what is newest") {
  Desk desk({.newest = {{2, kNow - seconds{20}}}, .fingerprints = {}});
  CHECK_FALSE(Has(desk.Take(Timed(TimedText(kNow - seconds{30}))).marks, Mark::kLive));
  CHECK(Has(desk.Take(Timed(TimedText(kNow - seconds{10}))).marks, Mark::kLive));
}

TEST_CASE("a redelivery with the bytes of the topic's last kept message is a repeat") {
  Desk desk;
  desk.Take(Plain("12.5"));
  auto again = Plain("12.5", kNow + seconds{1});
  again.duplicate = true;
  const auto repeat = desk.Take(again);
  CHECK(Has(repeat.marks, Mark::kRepeat));
  CHECK_FALSE(Has(repeat.marks, Mark::kLive));
  CHECK(repeat.source == TimeSource::kBacklog);

  SECTION("with other bytes it is not, but nobody knows when it was measured") {
    again.payload = "12.6";
    const auto other = desk.Take(again);
    CHECK_FALSE(Has(other.marks, Mark::kRepeat));
    CHECK_FALSE(Has(other.marks, Mark::kLive));
    CHECK(other.source == TimeSource::kBacklog);
  }
  SECTION("without DUP the same bytes are a new reading") {
    const auto fresh = desk.Take(Plain("12.5", kNow + seconds{2}));
    CHECK_FALSE(Has(fresh.marks, Mark::kRepeat));
    CHECK(Has(fresh.marks, Mark::kLive));
  }
}

TEST_CASE("a repeat is recognised after a restart by what the store knows") {
  Desk desk({.newest = {}, .fingerprints = {{"plain", FingerprintOf("plain", "12.5")}}});
  auto again = Plain("12.5");
  again.duplicate = true;
  CHECK(Has(desk.Take(again).marks, Mark::kRepeat));
}

TEST_CASE("a message that was not kept is no last message") {
  Desk desk;
  CHECK(desk.OnlyLook(Plain("12.5")).batch.readings.size() == 1);
  auto again = Plain("12.5");
  again.duplicate = true;
  CHECK_FALSE(Has(desk.Take(again).marks, Mark::kRepeat));
}

TEST_CASE("what waited at the broker is backlog and not live") {
  Desk desk;
  auto waited = Plain("12.5");
  waited.backlog = true;
  const auto reading = desk.Take(waited);
  CHECK(reading.source == TimeSource::kBacklog);
  CHECK(reading.measured_at == kNow);
  CHECK(reading.marks == 0);
}

TEST_CASE("what waited at the broker but names its own time is taken by that time") {
  Desk desk;
  const auto an_hour_ago = TimedText(kNow - hours{1});
  auto waited = Timed(an_hour_ago);
  waited.backlog = true;
  auto reading = desk.Take(waited);
  CHECK(reading.source == TimeSource::kOwn);
  CHECK_FALSE(Has(reading.marks, Mark::kLive));
  SECTION("and is live if that is now") {
    const auto text = TimedText(kNow - seconds{1});
    waited.payload = text;
    CHECK(Has(desk.Take(waited).marks, Mark::kLive));
  }
  SECTION("unless it is not believed") {
    const auto text = TimedText(kNow + hours{1});
    waited.payload = text;
    reading = desk.Take(waited);
    CHECK(reading.source == TimeSource::kBacklog);
    CHECK(Has(reading.marks, Mark::kUnbelievable));
    CHECK_FALSE(Has(reading.marks, Mark::kLive));
  }
}

TEST_CASE("with an own time a repeat is silent and another value is told") {
  Desk desk;
  const auto text = TimedText(kNow, "12.5");
  desk.Take(Timed(text));
  SECTION("the same value") {
    auto again = Timed(text);
    again.duplicate = true;
    CHECK(desk.OnlyLook(again).batch.readings.front().marks == static_cast<std::uint8_t>(Mark::kLive));
    CHECK(desk.TakeAll(again).empty());
    CHECK(desk.faults.empty());
  }
  SECTION("another value") {
    CHECK(desk.TakeAll(Timed(TimedText(kNow, "13"))).empty());
    REQUIRE(desk.faults.size() == 1);
    CHECK(
        desk.faults.front() ==
        "expected one value at 2025-11-25T07:30:00.000Z, found another one, 13, than was kept before; the first stays; "
        "look at the probe's clock");
  }
}

TEST_CASE("a retained message is no reading") {
  Desk desk;
  auto retained = Plain("12.5");
  retained.retained = true;
  const auto read = desk.OnlyLook(retained);
  CHECK(read.routed);
  CHECK(read.batch.readings.empty());
  CHECK(read.faults.empty());
  retained.payload = "nonsense";
  CHECK(desk.OnlyLook(retained).faults.empty());
}

TEST_CASE("a message that no route reads is nothing to keep and no fault") {
  const Desk desk;
  const auto read = desk.OnlyLook({.topic = "foreign", .payload = "12.5", .at = kNow});
  CHECK_FALSE(read.routed);
  CHECK(read.batch.readings.empty());
  CHECK(read.faults.empty());
}

TEST_CASE("probes that share a topic may speak in turn") {
  Desk desk;
  const auto say = [](std::string_view payload) { return Message{.topic = "shared", .payload = payload, .at = kNow}; };
  CHECK(desk.Take(say(R"({"cave":12})")).channel == 4);
  CHECK(desk.faults.empty());
  CHECK(desk.Take(say(R"({"box":11})")).channel == 5);
  CHECK(desk.TakeAll(say(R"({"cave":12,"box":11})")).size() == 2);
  CHECK(desk.TakeAll(say(R"({"attic":12})")).empty());
  CHECK(desk.faults.size() == 2);
}

TEST_CASE("an invalid payload gives its faults and what could be read") {
  Desk desk;
  CHECK(desk.TakeAll(Plain("abc")).empty());
  CHECK(desk.faults.size() == 1);
  CHECK(desk.TakeAll(Timed(R"({"t":12.5,"h":400})")).size() == 1);
  CHECK(desk.faults.size() == 1);
}

TEST_CASE("until the clock is known nothing without a time of its own is more than held, and nothing is live") {
  Desk desk;
  auto early = Plain("12.5");
  early.clock_known = false;
  CHECK(desk.Take(early).source == TimeSource::kHeld);
  CHECK_FALSE(Has(desk.Take(early).marks, Mark::kLive));
  const auto text = TimedText(kNow);
  auto timed = Timed(text);
  timed.clock_known = false;
  const auto reading = desk.Take(timed);
  CHECK(reading.source == TimeSource::kOwn);
  CHECK_FALSE(Has(reading.marks, Mark::kLive));
}

TEST_CASE("a fingerprint tells topic and payload apart and is the same for ever") {
  CHECK(FingerprintOf("a", "b") == FingerprintOf("a", "b"));
  CHECK(FingerprintOf("a", "b") != FingerprintOf("ab", ""));
  CHECK(FingerprintOf("a", "b") != FingerprintOf("a", "c"));
  // FNV-1a, 64 bits, of the bytes 'a' 0 'b'; computed with a few lines of Python.
  CHECK(FingerprintOf("a", "b") == 0xe5d29919042666b2U);
}

TEST_CASE("topics without end are not all remembered") {
  Desk desk;
  Intake intake;
  const RouteTable all({{.filter = "#",
                         .probe = 1,
                         .format = Format::kPlain,
                         .channels = {{1, ChannelKind::kTemperature, "", Unit::kCelsius}},
                         .time_pointer = {}}});
  for (std::size_t i = 0; i < Intake::kMostTopics + 10; ++i) {
    const auto topic = "t/" + std::to_string(i);
    const auto read = intake.Look({.topic = topic, .payload = "1", .at = kNow}, all);
    intake.Settle(read.batch, {.kept = true, .outcomes = {Kept::kNew}});
  }
  const auto repeats = [&](const std::string& topic) {
    const auto read = intake.Look({.topic = topic, .payload = "1", .duplicate = true, .at = kNow}, all);
    return Has(read.batch.readings.at(0).marks, Mark::kRepeat);
  };
  CHECK(repeats("t/0"));
  CHECK_FALSE(repeats("t/" + std::to_string(Intake::kMostTopics + 5)));
}
