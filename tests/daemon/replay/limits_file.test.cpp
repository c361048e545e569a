// Limits to try, as a keeper writes them.
#include "daemon/replay/limits_file.hpp"

#include <functional>

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

const CaveNames kCaves{{3, "Fridge"}, {4, "Box 1"}, {5, "Box 2"}};

std::string Refused(const std::function<void()>& read) {
  try {
    read();
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "";
}

std::string FaultOf(const std::string& text) {
  return Refused([&] { ReadLimits(text, "try.toml", kCaves); });
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
                              "try.toml", kCaves);
  REQUIRE(all.size() == 2);
  CHECK(all[0].cave == rules::CaveId{3});
  CHECK(all[0].temperature->high == 14.5);
  CHECK(all[0].humidity->low == 80);
  CHECK(all[0].off == std::vector{rules::AlarmKind::kTooDamp});
  CHECK(all[0].settings == rules::OwnSettings{{"door: act after", 30}});
  CHECK(!all[1].cave);
  CHECK(!all[1].temperature);
}

TEST_CASE("a file of limits tries what was struck as judged again, and the wheels' own bands in place of typed ones") {
  const auto all = ReadLimits(R"(format = 1
[[cave]]
of_wheels = ["humidity"]
judged = ["too damp", "too dry"]
temperature = { low = 10, high = 14.5 }
ready_cheese = false
[[cave]]
of_wheels = ["temperature", "humidity"]
)",
                              "try.toml", kCaves);
  REQUIRE(all.size() == 2);
  CHECK(all[0].wheels_humidity);
  CHECK_FALSE(all[0].wheels_temperature);
  CHECK(all[0].judged == std::vector{rules::AlarmKind::kTooDamp, rules::AlarmKind::kTooDry});
  CHECK(all[0].off.empty());
  CHECK(all[0].ready_cheese == false);
  CHECK(all[1].wheels_temperature);
  CHECK(all[1].wheels_humidity);
  CHECK_FALSE(all[1].ready_cheese);
  for (const OtherLimits& other : all) CHECK(other.Tries());
  CHECK_FALSE(OtherLimits{}.Tries());
}

TEST_CASE("what speaks against each other is not tried") {
  const std::string cave = "format = 1\n[[cave]]\n";
  CHECK(FaultOf(cave + "temperature = { low = 10, high = 14 }\nof_wheels = [\"temperature\"]\n") ==
        "try.toml, line 2: expected a span of temperature or the wheels' own band of temperature, found both.");
  CHECK(FaultOf(cave + "temperature = { low = 10, high = 14 }\nof_wheels = [\"humidity\"]\n").empty());
  CHECK(FaultOf(cave + "off = [\"too damp\"]\njudged = [\"too dry\", \"too damp\"]\n") ==
        "try.toml, line 2: expected \"too damp\" to be judged or not, found both.");
}

TEST_CASE("what a file of limits gets wrong is said with file and line, what was expected and what was found") {
  CHECK(FaultOf("[[cave]]\n") == "try.toml: expected format = 1 in its first line.");
  CHECK(FaultOf("format = 1\n") == "try.toml: expected a [[cave]] with other limits, found none.");
  CHECK(FaultOf("format = 1\ncave = [1]\n") == "try.toml, line 2: expected a [[cave]], found 1.");
  CHECK(FaultOf("format = \n").find("try.toml, line 1") == 0);
  const std::string cave = "format = 1\n[[cave]]\n";
  CHECK(FaultOf(cave + "name = true\n") == "try.toml, line 3: expected the name of a cave in quotes, found true.");
  CHECK(FaultOf(cave + "temperature = { low = 14, high = 10 }\n").find("try.toml, line 3: expected { low") == 0);
  CHECK(FaultOf(cave + "temperature = { low = 14, high = 10 }\n").find("low = 14") != std::string::npos);
  CHECK(FaultOf(cave + "humidity = { low = 80, high = 192 }\n").find("between 0 and 100 %") != std::string::npos);
  CHECK(FaultOf(cave + "off = \"too damp\"\n").find("line 3: expected a list of kinds") != std::string::npos);
  CHECK(FaultOf(cave + "off = [3]\n") == "try.toml, line 3: expected a kind of alarm in quotes, found 3.");
  CHECK(FaultOf(cave + "judged = \"too damp\"\n").find("line 3: expected a list of kinds") != std::string::npos);
  CHECK(FaultOf(cave + "of_wheels = true\n") ==
        "try.toml, line 3: expected a list such as [\"temperature\", \"humidity\"], found true.");
  CHECK(FaultOf(cave + "of_wheels = [1]\n") ==
        "try.toml, line 3: expected \"temperature\" or \"humidity\" in quotes, found 1.");
  CHECK(FaultOf(cave + "of_wheels = [\"air\"]\n") ==
        "try.toml, line 3: there is no band of the wheels called \"air\". Known are \"humidity\" and \"temperature\". "
        "Write one of these.");
  CHECK(FaultOf(cave + "ready_cheese = \"yes\"\n") == "try.toml, line 3: expected true or false, found 'yes'.");
  CHECK(FaultOf(cave + "settings = { \"door: act after\" = 1 }\n") ==
        "try.toml, line 3: expected \"door: act after\" between 3 and 240 min, found 1.");
  CHECK(FaultOf(cave + "settings = { \"door: act after\" = \"soon\" }\n").find("found \"soon\".") != std::string::npos);
}

TEST_CASE("a name in a file of limits that nothing goes by is refused with those that are known") {
  const std::string cave = "format = 1\n[[cave]]\n";
  CHECK(FaultOf(cave + "name = \"Box 3\"\n") ==
        "try.toml, line 3: there is no cave \"Box 3\". Known are \"Box 1\", \"Box 2\" and \"Fridge\". Write one of "
        "these; "
        "its number will do, too.");
  CHECK(FaultOf(cave + "name = \"4\"\n").empty());
  CHECK(FaultOf(cave + "name = 4\n").empty());
  CHECK(FaultOf(cave + "warmth = 3\n") ==
        "try.toml, line 3: there is no entry of a [[cave]] called \"warmth\". Known are \"name\", \"off\", \"judged\", "
        "\"humidity\", \"of_wheels\", \"settings\", \"temperature\" and \"ready_cheese\". Write one of these, or leave "
        "it "
        "out.");
  CHECK(FaultOf(cave + "humidity = { low = 80, high = 90, hgh = 3 }\n") ==
        "try.toml, line 3: there is no entry of a span called \"hgh\". Known are \"high\" and \"low\". Write both of "
        "these, "
        "and no other.");
  CHECK(FaultOf("format = 1\ntemperature = 3\n[[cave]]\n") ==
        "try.toml, line 2: there is no entry called \"temperature\". Known are \"format\" and \"cave\". Limits stand "
        "under a "
        "[[cave]].");
  const std::string kind = FaultOf(cave + "off = [\n\"too warm\",\n\"Too dmp\"]\n");
  CHECK(kind.find("try.toml, line 5: there is no kind of alarm \"Too dmp\". The nearest of 18 that are known: "
                  "\"too damp\", ") == 0);
  const std::string limit = FaultOf(cave + "settings = { \"door: act aftr\" = 30 }\n");
  CHECK(limit.find("try.toml, line 3: there is no limit \"door: act aftr\". The nearest of ") == 0);
  CHECK(limit.find("that are known: \"door: act after\", ") != std::string::npos);
  CHECK(limit.find("\"rindwatch replay --names\" lists them all") != std::string::npos);
}

TEST_CASE("what is typed on the command line is refused likewise, with its option") {
  CHECK(Refused([] { CaveNamed(kCaves, "fridge", "--cave"); }) ==
        "--cave: there is no cave \"fridge\". Known are \"Fridge\", \"Box 1\" and \"Box 2\". Write one of these; its "
        "number "
        "will do, too.");
  CHECK(Refused([] { CaveNamed({}, "fridge", "--cave"); }) ==
        "--cave: there is no cave \"fridge\". There are none. Is this the right configuration?");
  CHECK(Refused([] { KindNamed("", "--off"); }).find("--off: there is no kind of alarm \"\". The nearest of 18") == 0);
  CHECK(Refused([] { SettingOf("door: act after", "--set"); }) ==
        "--set: expected a limit and its figure such as \"door: act after=30\", found \"door: act after\".");
  CHECK(Refused([] { SettingOf("door: act after=soon", "--set"); }) ==
        "--set: expected \"door: act after\" between 3 and 240 min, found \"soon\".");
  CHECK(Refused([] { SpanOf("14", SpanKind::kTemperature, "--temperature"); }) ==
        "--temperature: expected a span such as 10-14, the lower figure first, between -10 and 40 °C, found \"14\".");
}

TEST_CASE("a cave is found by its name before its number") {
  const CaveNames caves{{1, "2"}, {2, "Fridge"}};
  CHECK(CaveNamed(caves, "2", "--cave") == 1);
  CHECK(CaveNamed(caves, "1", "--cave") == 1);
}

TEST_CASE("all names that can be said are listed") {
  const std::string all = AllNames(kCaves);
  CHECK(all.find("  3    Fridge\n") != std::string::npos);
  for (const rules::SettingRow& row : rules::SettingRows()) CHECK(all.find(std::string(row.id)) != std::string::npos);
  CHECK(all.find("  too damp\n") != std::string::npos);
}

TEST_CASE("spans and settings are typed in short") {
  const auto warm = [](const char* text) { return SpanOf(text, SpanKind::kTemperature, "--temperature"); };
  CHECK(warm("10-14").high == 14);
  CHECK(warm("-2 to 3.5").low == -2);
  CHECK(warm("-2-3").low == -2);
  CHECK_THROWS_AS(warm("14-10"), std::runtime_error);
  CHECK_THROWS_AS(warm("10-400"), std::runtime_error);
  CHECK_THROWS_AS(SpanOf("-1-50", SpanKind::kHumidity, "--humidity"), std::runtime_error);
  CHECK(SettingOf("door: act after=30", "--set") == std::pair<std::string, double>{"door: act after", 30});
  CHECK(SettingOf("door: act after = 30", "--set") == std::pair<std::string, double>{"door: act after", 30});
  CHECK_THROWS_AS(SettingOf("door: act after=900", "--set"), std::runtime_error);
}

}  // namespace
}  // namespace rindwatch
