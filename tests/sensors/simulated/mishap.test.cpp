#include "sensors/simulated/mishap.hpp"

#include <stdexcept>
#include <string>

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;
using Kind = Mishap::Kind;

TEST_CASE("each mishap is read from its words and written back as them") {
  struct Row {
    const char* line;
    Mishap mishap;
  };
  const Row rows[] = {
      {"door ajar", {.kind = Kind::kDoorAjar}},
      {"door ajar 30m", {.kind = Kind::kDoorAjar, .span = 30min}},
      {"door shut", {.kind = Kind::kDoorShut}},
      {"compressor dead", {.kind = Kind::kCompressorDead}},
      {"compressor dead 2h", {.kind = Kind::kCompressorDead, .span = 2h}},
      {"compressor mended", {.kind = Kind::kCompressorMended}},
      {"probe silent Box 1 air", {.kind = Kind::kProbeSilent, .subject = "Box 1 air"}},
      {"probe silent Fridge air 1h30m", {.kind = Kind::kProbeSilent, .subject = "Fridge air", .span = 90min}},
      {"probe silent 1h", {.kind = Kind::kProbeSilent, .subject = "1h"}},
      {"probe back Box 1 air", {.kind = Kind::kProbeBack, .subject = "Box 1 air"}},
      {"power cut 1h", {.kind = Kind::kPowerCut, .span = 1h}},
      {"power cut 1h2m3s", {.kind = Kind::kPowerCut, .span = 1h + 2min + 3s}},
      {"power back", {.kind = Kind::kPowerBack}},
      {"compressor sticks 2h", {.kind = Kind::kCompressorSticks, .span = 2h}},
      {"thermostat drifts", {.kind = Kind::kThermostatDrifts}},
      {"thermostat drifts 36h", {.kind = Kind::kThermostatDrifts, .span = 36h}},
      {"thermostat mended", {.kind = Kind::kThermostatMended}},
      {"coil ices 96h", {.kind = Kind::kCoilIces, .span = 96h}},
      {"coil thawed", {.kind = Kind::kCoilThawed}},
      {"wick dry 24h", {.kind = Kind::kWickDry, .span = 24h}},
      {"wick filled", {.kind = Kind::kWickFilled}},
      {"heat wave", {.kind = Kind::kHeatWave}},
      {"delivery 10m", {.kind = Kind::kDelivery, .span = 10min}},
      {"probe stuck Fridge air 2h", {.kind = Kind::kProbeStuck, .subject = "Fridge air", .span = 2h}},
      {"probe wet Box 1 air", {.kind = Kind::kProbeWet, .subject = "Box 1 air"}},
      {"Box 1 lid ajar", {.kind = Kind::kLid, .subject = "Box 1", .lid = Lid::kAjar}},
      {"Box 1 lid shut", {.kind = Kind::kLid, .subject = "Box 1", .lid = Lid::kShut}},
      {"Box 2 lid off", {.kind = Kind::kLid, .subject = "Box 2", .lid = Lid::kOff}},
  };
  for (const Row& row : rows) {
    INFO(row.line);
    CHECK(ParseMishap(row.line) == row.mishap);
    CHECK(ToText(row.mishap) == row.line);
  }
}

TEST_CASE("case, further blanks and a line's end do not count") {
  CHECK(ParseMishap("  Door   AJAR 30M\r\n") == Mishap{.kind = Kind::kDoorAjar, .span = 30min});
  CHECK(ParseMishap("power cut 1h 30m") == Mishap{.kind = Kind::kPowerCut, .span = 90min});
  CHECK(ParseMishap("box Box 2 lid ajar") == Mishap{.kind = Kind::kLid, .subject = "Box 2", .lid = Lid::kAjar});
  CHECK(ParseMishap("box 1 LID Off") == Mishap{.kind = Kind::kLid, .subject = "box 1", .lid = Lid::kOff});
}

TEST_CASE("what is no mishap is refused with a sentence that says what to write") {
  struct Row {
    const char* line;
    const char* says;
  };
  for (const Row& row : {Row{"", "no such mishap"},
                         {"dor ajar", "known are"},
                         {"door", "no such mishap"},
                         {"doorajar", "no such mishap"},
                         {"door ajarred", "no such mishap"},
                         {"door ajar 30", "no span"},
                         {"door ajar m", "no span"},
                         {"door ajar 30x", "no span"},
                         {"door ajar 0m", "no span"},
                         {"door ajar -5m", "no span"},
                         {"door ajar 99999999999999999999h", "no span"},
                         {"door ajar 9000h", "no span"},
                         {"door shut 30m", "nothing may follow"},
                         {"probe silent", "name of a probe is missing"},
                         {"Box 1 lid open", "shut, ajar or off"},
                         {"lid off", "no such mishap"}}) {
    INFO(row.line);
    try {
      ParseMishap(row.line);
      FAIL_CHECK("was accepted");
    } catch (const std::invalid_argument& error) {
      CHECK(std::string{error.what()}.find(row.says) != std::string::npos);
    }
  }
}

TEST_CASE("a megabyte of rubbish is refused with a short sentence") {
  try {
    ParseMishap(std::string(1 << 20, 'x'));
    FAIL("was accepted");
  } catch (const std::invalid_argument& error) {
    CHECK(std::string{error.what()}.size() < 500);
  }
}
