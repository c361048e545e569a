// Limits to try, as a keeper writes them.
#include "daemon/replay/limits_file.hpp"

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

std::optional<rules::CaveId> Named(const std::string& name) {
  return name == "Fridge" ? std::optional<rules::CaveId>{3} : std::nullopt;
}

std::string FaultOf(const std::string& text) {
  try {
    ReadLimits(text, "try.toml", Named);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "";
}

TEST_CASE("a file of limits says what is tried in which cave") {
  const auto all = ReadLimits(R"(format = 1
[[cave]]
name = "Fridge"
temperature = { low = 10, high = 14.5 }
humidity = { low = 80, high = 92 }
off = ["too damp"]
settings = { "door: act after" = 30 }
[[cave]]
settings = { "over: back inside for" = 90 }
)",
                              "try.toml", Named);
  REQUIRE(all.size() == 2);
  CHECK(all[0].cave == rules::CaveId{3});
  CHECK(all[0].temperature->high == 14.5);
  CHECK(all[0].humidity->low == 80);
  CHECK(all[0].off == std::vector{rules::AlarmKind::kTooDamp});
  CHECK(all[0].settings == rules::OwnSettings{{"door: act after", 30}});
  CHECK(!all[1].cave);
  CHECK(!all[1].temperature);
}

TEST_CASE("what a file of limits gets wrong is said with file and line") {
  CHECK(FaultOf("[[cave]]\n").find("format = 1") != std::string::npos);
  CHECK(FaultOf("format = 1\n").find("[[cave]]") != std::string::npos);
  CHECK(FaultOf("format = 1\n[[cave]]\nname = \"Attic\"\n").find("try.toml, line 3: expected the name of a cave") == 0);
  CHECK(FaultOf("format = 1\n[[cave]]\ntemperature = { low = 14, high = 10 }\n").find("line 3") != std::string::npos);
  CHECK(FaultOf("format = 1\n[[cave]]\nsettings = { \"door: act after\" = 1 }\n").find("between 3 and 240") !=
        std::string::npos);
  CHECK(FaultOf("format = 1\n[[cave]]\nsettings = { nobody = 1 }\n").find("Nobody knows a setting") !=
        std::string::npos);
  CHECK(FaultOf("format = 1\n[[cave]]\nwarmth = 3\n").find("found warmth") != std::string::npos);
  CHECK(FaultOf("format = \n").find("try.toml, line 1") == 0);
}

TEST_CASE("spans and settings are typed in short") {
  CHECK(SpanOf("10-14", "temperature").high == 14);
  CHECK(SpanOf("-2 to 3.5", "temperature").low == -2);
  CHECK(SpanOf("-2-3", "temperature").low == -2);
  CHECK_THROWS_AS(SpanOf("14", "temperature"), std::runtime_error);
  CHECK_THROWS_AS(SpanOf("14-10", "temperature"), std::runtime_error);
  CHECK(SettingOf("door: act after=30") == std::pair<std::string, double>{"door: act after", 30});
  CHECK_THROWS_AS(SettingOf("door: act after"), std::runtime_error);
  CHECK_THROWS_AS(SettingOf("door: act after=900"), std::runtime_error);
}

}  // namespace
}  // namespace rindwatch
