#include "sensors/decoder.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors;
using rindwatch::rules::ChannelKind;
using rindwatch::rules::FromMillis;

namespace {

Route Plain(ChannelKind kind = ChannelKind::kTemperature, Unit unit = Unit::kCelsius) {
  return {.filter = "a", .probe = 1, .format = Format::kPlain, .channels = {{1, kind, "", unit}}, .time_pointer = {}};
}
Route Json(std::string pointer) {
  return {.filter = "a",
          .probe = 1,
          .format = Format::kJson,
          .channels = {{1, ChannelKind::kTemperature, std::move(pointer), Unit::kCelsius}},
          .time_pointer = {}};
}
Route Both() {
  return {.filter = "a",
          .probe = 1,
          .format = Format::kJson,
          .channels = {{1, ChannelKind::kTemperature, "/t", Unit::kCelsius},
                       {2, ChannelKind::kHumidity, "/h", Unit::kPercent}},
          .time_pointer = "/at"};
}
std::int64_t OnlyValue(const Decoded& decoded) {
  INFO((decoded.faults.empty() ? decoded.nothing_there : decoded.faults.front()));
  REQUIRE(decoded.values.size() == 1);
  CHECK(decoded.faults.empty());
  return decoded.values.front().milli;
}
std::string OnlyFault(const Decoded& decoded) {
  REQUIRE(decoded.faults.size() == 1);
  return decoded.faults.front();
}

}  // namespace

TEST_CASE("a plain number is read, blanks around it or not, and rounded to thousandths") {
  const auto [payload, milli] = GENERATE(table<std::string, std::int64_t>({
      {"12.5", 12'500},
      {" 12.5\r\n", 12'500},
      {"\t-3 ", -3'000},
      {"+4.25", 4'250},
      {"1.2e1", 12'000},
      {"0", 0},
      {"-0.0", 0},
      {".5", 500},
      {"12.3456", 12'346},
      {"12.3454", 12'345},
      {"-12.3456", -12'346},
      {"0.0004", 0},
      {"100", 100'000},
      {"-60", -60'000},
  }));
  INFO(payload);
  CHECK(OnlyValue(Decode(Plain(), payload)) == milli);
}

TEST_CASE("what is no plain number is refused and the keeper is told why") {
  const auto [payload, words] = GENERATE(table<std::string, std::string>({
      {"", "found nothing"},
      {"   ", "found nothing"},
      {"abc", "expected a number such as 12.5, found \"abc\""},
      {"nan", "found \"nan\""},
      {"NaN", "found \"NaN\""},
      {"-nan", "found \"-nan\""},
      {"inf", "found \"inf\""},
      {"-Infinity", "found \"-Infinity\""},
      {"1e309", "too large or too small to hold"},
      {"-1e309", "too large or too small to hold"},
      {"12,5", "write the decimal point as a point"},
      {"12.5 C", "send the number alone"},
      {"12.5\xc2\xb0", "found \"12.5\\xc2\\xb0\"; send the number alone"},
      {"0x10", "send the number alone"},
      {"1 2", "send the number alone"},
      {"12.5.1", "send the number alone"},
      {"+-3", "found \"+-3\""},
      {"--3", "found \"--3\""},
      {"-", "found \"-\""},
      {"{\"t\":1}", "found \"{\"t\":1}\""},
      {"85000", "expected a temperature from -60 to 100 °C, found 85000 °C; look at the probe and at the unit"},
      {"-127", "found -127 °C"},
      {"100.001", "found 100.001 °C"},
      {"-60.001", "found -60.001 °C"},
  }));
  INFO(payload);
  const auto decoded = Decode(Plain(), payload);
  CHECK(decoded.values.empty());
  CHECK(OnlyFault(decoded).find(words) != std::string::npos);
}

TEST_CASE("a payload with a zero byte in it is no number") {
  CHECK_FALSE(Decode(Plain(), std::string_view("12\0", 3)).faults.empty());
}

TEST_CASE("units are turned into the channel's own") {
  // Exact: 53.6 F is 12 C (NIST SP 811, appendix B.8).
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kTemperature, Unit::kFahrenheit), "53.6")) == 12'000);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kWheelTemperature, Unit::kKelvin), "285.15")) == 12'000);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kHumidity, Unit::kPercent), "85.05")) == 85'050);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kHumidity, Unit::kFraction), "0.8505")) == 85'050);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kBattery, Unit::kFraction), "1")) == 100'000);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kWeight, Unit::kKilogram), "2.0004")) == 2'000'400);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kPlantPower, Unit::kWatt), "95.5")) == 95'500);
  CHECK(OnlyValue(Decode(Plain(ChannelKind::kCarbonDioxide, Unit::kPpm), "650")) == 650'000);
}

TEST_CASE("a humidity outside what can be is refused, a wet probe's overshoot is not") {
  const auto route = Plain(ChannelKind::kHumidity, Unit::kPercent);
  CHECK(OnlyValue(Decode(route, "105")) == 105'000);
  CHECK(OnlyValue(Decode(route, "0")) == 0);
  CHECK(OnlyFault(Decode(route, "105.1")) ==
        "expected a humidity from 0 to 105 %, found 105.1 %; look at the probe and at the unit in the route");
  CHECK_FALSE(Decode(route, "-0.1").faults.empty());
}

TEST_CASE("a door speaks in numbers, words and truth values, either way round") {
  const auto open = Plain(ChannelKind::kDoor, Unit::kOpenIsOne);
  const auto shut = Plain(ChannelKind::kDoor, Unit::kShutIsOne);
  for (const auto* word : {"1", "open", "OPEN", "on", "true"}) CHECK(OnlyValue(Decode(open, word)) == 1'000);
  for (const auto* word : {"0", "shut", "closed", "OFF", "false"}) CHECK(OnlyValue(Decode(open, word)) == 0);
  for (const auto* word : {"0", "open", "off", "false"}) CHECK(OnlyValue(Decode(shut, word)) == 1'000);
  for (const auto* word : {"1", "shut", "on", "true"}) CHECK(OnlyValue(Decode(shut, word)) == 0);
  CHECK(OnlyFault(Decode(open, "0.5")) == "expected 0 or 1 for the door, found 0.5");
  CHECK_FALSE(Decode(open, "ajar").faults.empty());

  auto json = Json("/contact");
  json.channels[0].kind = ChannelKind::kDoor;
  json.channels[0].unit = Unit::kShutIsOne;
  CHECK(OnlyValue(Decode(json, R"({"contact": false})")) == 1'000);
  CHECK(OnlyValue(Decode(json, R"({"contact": true})")) == 0);
  CHECK(OnlyValue(Decode(json, R"({"contact": "open"})")) == 1'000);
}

TEST_CASE("a contact under water speaks in numbers, words and truth values, either way round") {
  for (const auto kind : {ChannelKind::kHumidifierWater, ChannelKind::kDrainWater}) {
    const auto one = Plain(kind, Unit::kWaterIsOne), zero = Plain(kind, Unit::kWaterIsZero);
    for (const auto* word : {"1", "wet", "WET", "on", "true"}) CHECK(OnlyValue(Decode(one, word)) == 1'000);
    for (const auto* word : {"0", "dry", "DRY", "off", "false"}) CHECK(OnlyValue(Decode(one, word)) == 0);
    for (const auto* word : {"0", "wet", "off", "false"}) CHECK(OnlyValue(Decode(zero, word)) == 1'000);
    for (const auto* word : {"1", "dry", "on", "true"}) CHECK(OnlyValue(Decode(zero, word)) == 0);
    CHECK_FALSE(Decode(one, "open").faults.empty());  // a door's word
    auto json = Json("/leak");
    json.channels[0].kind = kind;
    json.channels[0].unit = Unit::kWaterIsOne;
    CHECK(OnlyValue(Decode(json, R"({"leak": true})")) == 1'000);
    CHECK(OnlyValue(Decode(json, R"({"leak": "dry"})")) == 0);
  }
  CHECK(OnlyFault(Decode(Plain(ChannelKind::kHumidifierWater, Unit::kWaterIsOne), "0.5")) ==
        "expected 0 or 1 for the humidifier water, found 0.5");
}

// RFC 6901, section 5, typed from its text: the document, and each pointer with what it evaluates to. Strings, arrays
// and objects are no readings, so they show as faults that name what was found.
TEST_CASE("JSON pointers find what the examples of RFC 6901 find") {
  const std::string document = R"({
      "foo": ["bar", "baz"],
      "": 0,
      "a/b": 1,
      "c%d": 2,
      "e^f": 3,
      "g|h": 4,
      "i\\j": 5,
      "k\"l": 6,
      " ": 7,
      "m~n": 8
   })";
  const auto [pointer, value] = GENERATE(table<std::string, int>({
      {"/", 0},
      {"/a~1b", 1},
      {"/c%d", 2},
      {"/e^f", 3},
      {"/g|h", 4},
      {"/i\\j", 5},
      {"/k\"l", 6},
      {"/ ", 7},
      {"/m~0n", 8},
  }));
  INFO(pointer);
  CHECK(OnlyValue(Decode(Json(pointer), document)) == value * 1000);
  CHECK(OnlyFault(Decode(Json("/foo"), document)).find(R"(found ["bar","baz"])") != std::string::npos);
  CHECK(OnlyFault(Decode(Json("/foo/0"), document)).find(R"(found "bar")") != std::string::npos);
  CHECK(OnlyFault(Decode(Json(""), document)).find(R"(found {"foo":["bar","baz"],"":0)") != std::string::npos);
}

TEST_CASE("a pointer reaches into objects and arrays, and the empty one is the whole text") {
  CHECK(OnlyValue(Decode(Json("/probes/1/t"), R"({"probes":[{"t":1},{"t":12.25}]})")) == 12'250);
  CHECK(OnlyValue(Decode(Json(""), " 12.5 ")) == 12'500);
}

TEST_CASE("a place that is not there is silence") {
  const auto pointer =
      GENERATE(as<std::string>{}, "/x", "/t/deeper", "/list/2", "/list/-", "/list/01", "/list/x", "/null");
  INFO(pointer);
  const auto decoded = Decode(Json(pointer), R"({"t":1,"list":[1,2],"null":null})");
  CHECK(decoded.values.empty());
  CHECK(decoded.faults.empty());
  CHECK(decoded.nothing_there == "expected a value at " + pointer + ", found none there; look at the route's pointers");
}

TEST_CASE("several channels come from one message, and one that is silent is no fault") {
  auto decoded = Decode(Both(), R"({"t":12.5,"h":85})");
  REQUIRE(decoded.values.size() == 2);
  CHECK(decoded.values[0].channel == 1);
  CHECK(decoded.values[1].milli == 85'000);

  CHECK(OnlyValue(Decode(Both(), R"({"h":85})")) == 85'000);
  CHECK(OnlyValue(Decode(Both(), R"({"t":null,"h":85})")) == 85'000);
  CHECK(Decode(Both(), "{}").nothing_there ==
        "expected a value at /t, /h, found none there; look at the route's pointers");
}

TEST_CASE("a channel that is wrong leaves the others as they are") {
  const auto decoded = Decode(Both(), R"({"t":12.5,"h":"error"})");
  REQUIRE(decoded.values.size() == 1);
  CHECK(decoded.values[0].milli == 12'500);
  CHECK(OnlyFault(decoded) == "at /h: expected a number such as 12.5, found \"error\"");
}

TEST_CASE("numbers in JSON may be whole, broken or in a string") {
  CHECK(OnlyValue(Decode(Json("/t"), R"({"t":12})")) == 12'000);
  CHECK(OnlyValue(Decode(Json("/t"), R"({"t":-12})")) == -12'000);
  CHECK(OnlyValue(Decode(Json("/t"), R"({"t":" 12.5 "})")) == 12'500);
}

TEST_CASE("JSON that holds no number there, or is none, is refused in the keeper's words") {
  const auto [payload, words] = GENERATE(table<std::string, std::string>({
      {R"({"t":1e309})", "too large to hold"},
      {R"({"t":-1e309})", "too large to hold"},
      {R"({"t":"1e309"})", "too large or too small to hold"},
      {R"({"t":18446744073709551615})", "found 1.84467e+19 °C"},
      {R"({"t":"nan"})", "found \"nan\""},
      {R"({"t":true})", "found true"},
      {R"({"t":[12]})", "found [12]"},
      {R"({"t":nan})", "expected a JSON text, found something else"},
      {R"({"t":12)", "expected a JSON text"},
      {R"({"t":12} x)", "expected a JSON text"},
      {"", "expected a JSON text"},
      {"\xff\xfe", "expected a JSON text"},
      {R"({"t":"\ud800"})", "expected a JSON text"},
  }));
  INFO(payload);
  const auto decoded = Decode(Json("/t"), payload);
  CHECK(decoded.values.empty());
  CHECK(OnlyFault(decoded).find(words) != std::string::npos);
}

TEST_CASE("a text nested without end is refused") {
  CHECK(OnlyFault(Decode(Json("/t"), std::string(10'000, '['))).find("expected a JSON text") != std::string::npos);
}

TEST_CASE("a payload of a megabyte is refused unread, in one sentence") {
  const std::string large(1 << 20, ' ');
  CHECK(OnlyFault(Decode(Plain(), large)) == "expected at most 65536 bytes, found 1048576; send one reading a message");
  CHECK_FALSE(Decode(Json("/t"), large).faults.empty());
  CHECK(OnlyValue(Decode(Plain(), "12.5" + std::string(kLongestPayload - 4, ' '))) == 12'500);
  CHECK_FALSE(Decode(Plain(), "12.5" + std::string(kLongestPayload - 3, ' ')).faults.empty());
}

TEST_CASE("a message may name its own time") {
  // 1764055800 is 2025-11-25T07:30:00Z (date -u).
  const auto at = FromMillis(1'764'055'800'000);
  const auto time = GENERATE(as<std::string>{}, "1764055800", "1764055800.0", "1764055800000", R"("1764055800")",
                             R"("2025-11-25T07:30:00Z")", R"("2025-11-25T08:30:00+01:00")");
  INFO(time);
  const auto decoded = Decode(Both(), R"({"t":1,"at":)" + time + "}");
  REQUIRE(decoded.own_time);
  CHECK(*decoded.own_time == at);
  CHECK(decoded.faults.empty());
}

TEST_CASE("no time is no fault, an unreadable one is, and the reading stays") {
  CHECK_FALSE(Decode(Both(), R"({"t":1})").own_time);
  CHECK_FALSE(Decode(Both(), R"({"t":1,"at":null})").unreadable_time);
  const auto decoded = Decode(Both(), R"({"t":1,"at":"2025-11-25T07:30:00"})");
  CHECK(decoded.values.size() == 1);
  CHECK(decoded.unreadable_time);
  CHECK(
      OnlyFault(decoded) ==
      "expected a time such as 2026-11-25T07:30:00Z or seconds since 1970, found \"2025-11-25T07:30:00\"; the time of "
      "arrival was taken");
  CHECK(Decode(Both(), R"({"t":1,"at":{}})").unreadable_time);
  CHECK(Decode(Both(), R"({"t":1,"at":1e300})").unreadable_time);
}
