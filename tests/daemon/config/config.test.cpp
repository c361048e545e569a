#include "daemon/config/config.hpp"

#include <filesystem>
#include <fstream>

#include "tests/catch.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using testing::Says;
using testing::WhatIsSaid;

Config Read(const std::string& text) { return ReadConfig(text, "/etc/rindwatch.toml").config; }
std::string Refused(const std::string& text) {
  return WhatIsSaid([&] { ReadConfig(text, "/etc/rindwatch.toml"); });
}
std::vector<std::string> Warnings(const std::string& text) { return ReadConfig(text, "/etc/rindwatch.toml").warnings; }

TEST_CASE("an empty file gives the settings as they come: this machine alone") {
  const Config config = Read("");
  CHECK(config.listen_address == "127.0.0.1");
  CHECK(config.listen_port == 8417);
  CHECK(config.listen_names.empty());
  CHECK_FALSE(config.broker_given);
  CHECK(config.broker_host == "127.0.0.1");
  CHECK(config.broker_port == 1883);
  CHECK(config.broker_client == "rindwatch");
  CHECK(config.broker_prefix == "rindwatch");
  CHECK(config.broker_discover == "#");
  CHECK(config.sync_seconds == 30);
  CHECK(config.zone.empty());
  CHECK(config.day_turn == 4);
  CHECK(config.log_level == "info");
  CHECK(config.source == "/etc/rindwatch.toml");
  CHECK(Warnings("").empty());
}

TEST_CASE("every setting is read") {
  const Config config = Read(R"(
    [listen]
    address = "0.0.0.0"
    port = 9000
    names = ["cellar.example", "cave.example"]
    [broker]
    host = "broker.example"
    port = 8883
    user = "watch"
    password = "salt"
    client = "watch-2"
    prefix = "cellar"
    discover = "cellar/#"
    [database]
    path = "/var/lib/rindwatch/book.db"
    sync_seconds = 5
    [home]
    zone = "Europe/Vienna"
    day_turn = 0
    [log]
    level = "debug"
  )");
  CHECK(config.listen_address == "0.0.0.0");
  CHECK(config.listen_port == 9000);
  CHECK(config.listen_names == std::vector<std::string>{"cellar.example", "cave.example"});
  CHECK(config.broker_given);
  CHECK(config.broker_host == "broker.example");
  CHECK(config.broker_port == 8883);
  CHECK(config.broker_user == "watch");
  CHECK(config.broker_password == "salt");
  CHECK(config.broker_client == "watch-2");
  CHECK(config.broker_prefix == "cellar");
  CHECK(config.broker_discover == "cellar/#");
  CHECK(config.database == "/var/lib/rindwatch/book.db");
  CHECK(config.sync_seconds == 5);
  CHECK(config.zone == "Europe/Vienna");
  CHECK(config.day_turn == 0);
  CHECK(config.log_level == "debug");
}

TEST_CASE("a relative database lies beside the configuration, an absolute one where it says") {
  CHECK(Read("").database == "/etc/rindwatch.db");
  CHECK(Read("[database]\npath = \"data/book.db\"").database == "/etc/data/book.db");
  CHECK(ReadConfig("", "rindwatch.toml").config.database == "rindwatch.db");
}

TEST_CASE("a setting of the wrong type is refused with file, line, expected and found") {
  struct Case {
    const char* text;
    const char* line;
    const char* expected;
    const char* found;
  };
  const auto wrong = GENERATE(
      Case{"[listen]\naddress = 127", "line 2: [listen] address", "an address in quotes", "found 127"},
      Case{"[listen]\n\nport = \"8417\"", "line 3: [listen] port", "a whole number from 1 to 65535", "8417"},
      Case{"[listen]\nport = 84.5", "line 2: [listen] port", "a whole number", "84.5"},
      Case{"[listen]\nport = true", "line 2: [listen] port", "a whole number", "true"},
      Case{"[listen]\nnames = \"cellar.example\"", "line 2: [listen] names", "a list of texts", "cellar.example"},
      Case{"[listen]\nnames = [\n  \"a\",\n  3 ]", "line 4: [listen] names", "a list of texts", "3"},
      Case{"[broker]\nhost = [\"a\"]", "line 2: [broker] host", "a name or address in quotes", "a"},
      Case{"[log]\nlevel = 3", "line 2: [log] level", "\"debug\", \"info\"", "3"},
      Case{"[home]\nday_turn = \"04:00\"", "line 2: [home] day_turn", "a whole number from 0 to 5", "04:00"});
  const std::string said = Refused(wrong.text);
  CAPTURE(wrong.text);
  CHECK_THAT(said, Says("/etc/rindwatch.toml, "));
  CHECK_THAT(said, Says(wrong.line));
  CHECK_THAT(said, Says(wrong.expected));
  CHECK_THAT(said, Says(wrong.found));
}

TEST_CASE("numbers are held to their ranges, both ends in") {
  struct Range {
    const char* section;
    const char* key;
    std::int64_t low, high;
  };
  const auto range = GENERATE(Range{"listen", "port", 1, 65535}, Range{"broker", "port", 1, 65535},
                              Range{"database", "sync_seconds", 1, 3600}, Range{"home", "day_turn", 0, 5});
  const auto with = [&](std::int64_t value) {
    return std::string("[") + range.section + "]\n" + range.key + " = " + std::to_string(value);
  };
  CHECK(Refused(with(range.low)).empty());
  CHECK(Refused(with(range.high)).empty());
  CHECK_THAT(Refused(with(range.low - 1)), Says("found " + std::to_string(range.low - 1)));
  CHECK_THAT(Refused(with(range.high + 1)), Says("found " + std::to_string(range.high + 1)));
}

TEST_CASE("a log level that does not exist is refused") {
  CHECK_THAT(Refused("[log]\nlevel = \"loud\""), Says("line 2: [log] level should be one of"));
}

TEST_CASE("an address that is none, and topics and filters that no broker takes, are refused with their line") {
  CHECK_THAT(Refused("[listen]\naddress = \"cellar.example\""), Says("line 2: [listen] address should be an address"));
  CHECK_THAT(Refused("[listen]\naddress = \"\""), Says("line 2: [listen] address"));
  CHECK(Read("[listen]\naddress = \"::1\"").listen_address == "::1");
  for (const char* prefix : {"", "a/#", "a/+/b", "#"}) {
    CAPTURE(prefix);
    CHECK_THAT(Refused(std::string("[broker]\nprefix = \"") + prefix + "\""), Says("line 2: [broker] prefix"));
  }
  for (const char* filter : {"a/#/b", "a#", "+a"}) {
    CAPTURE(filter);
    CHECK_THAT(Refused(std::string("[broker]\ndiscover = \"") + filter + "\""), Says("line 2: [broker] discover"));
  }
  CHECK(Read("[broker]\ndiscover = \"\"").broker_discover.empty());
}

TEST_CASE("a section that is no section is refused or warned about, never a crash") {
  for (const char* text : {"listen = 3", "broker = \"here\"", "log = [1]", "home = 1979-05-27"}) {
    CAPTURE(text);
    const auto warnings = Warnings(text);
    REQUIRE(warnings.size() == 1);
    CHECK_THAT(warnings.front(), Says("line 1: nobody reads ["));
  }
}

TEST_CASE("a setting that nobody reads is a warning with its line and its neighbours") {
  const auto warnings = Warnings("[listen]\nport = 9000\nadress = \"0.0.0.0\"\n");
  REQUIRE(warnings.size() == 1);
  CHECK_THAT(warnings.front(), Says("/etc/rindwatch.toml, line 3: nobody reads \"adress\" in [listen]"));
  CHECK_THAT(warnings.front(), Says("the settings there are address, names, port."));
}

TEST_CASE("a section that nobody reads is a warning with the sections that there are") {
  const auto warnings = Warnings("[listn]\nport = 9000\n\n[bell]\nhost = \"a\"\n");
  REQUIRE(warnings.size() == 2);
  CHECK_THAT(warnings[0] + warnings[1], Says("line 1: nobody reads [listn]"));
  CHECK_THAT(warnings[0] + warnings[1], Says("line 4: nobody reads [bell]"));
  CHECK_THAT(warnings[0], Says("the sections are broker, database, home, listen, log, mail, notices, ping, webhook."));
}

TEST_CASE("what is not TOML is refused with its line and what to do") {
  for (const auto& [text, line] : {std::pair{"[listen]\nport = \n", "line 2"}, std::pair{"[listen\nport = 1", "line 1"},
                                   std::pair{"[listen]\nport = 1\nport = 2\n", "line 3"},
                                   std::pair{"[listen]\naddress = \"127.0.0.1\n", "line 2"}}) {
    CAPTURE(text);
    const std::string said = Refused(text);
    CHECK_THAT(said, Says("/etc/rindwatch.toml, "));
    CHECK_THAT(said, Says(line));
    CHECK_THAT(said, Says("this is not TOML"));
    CHECK_THAT(said, Says("Mend the line, or take it out."));
  }
}

TEST_CASE("bytes that are no text are refused as such") {
  CHECK_THAT(Refused("[listen]\naddress = \"\xff\xfe\""), Says("this is not TOML"));
}

TEST_CASE("a file is read from disk, and one that is not there is said to be missing") {
  const testing::TempFolder folder;
  const std::string path = folder / "rindwatch.toml";
  std::ofstream(path) << "[listen]\nport = 9001\n";
  const Config config = ReadConfigFile(path).config;
  CHECK(config.listen_port == 9001);
  CHECK(config.database == folder / "rindwatch.db");
  CHECK_THAT(WhatIsSaid([&] { ReadConfigFile(folder / "none.toml"); }), Says("none.toml: the configuration cannot be"));
}

TEST_CASE("a folder in the place of the file is refused") {
  const testing::TempFolder folder;
  CHECK_THAT(WhatIsSaid([&] { ReadConfigFile(folder / ""); }), Says("the configuration cannot be read"));
}

}  // namespace
}  // namespace rindwatch
