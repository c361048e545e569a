// The machine's matters, from one TOML file. What a keeper handles lives in the database instead.
#pragma once

#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/config/notices.hpp"

namespace rindwatch {

struct Config {
  // Where the page and the API listen. The default is this machine alone; any other address lets everybody on that
  // network write until there is sign-in.
  std::string listen_address = "127.0.0.1";
  std::uint16_t listen_port = 8417;
  // Further names under which a browser may reach the page ("cellar.example"); addresses and the machine's own name
  // are taken anyway. A name that is not listed is refused: it protects against foreign pages.
  std::vector<std::string> listen_names;

  bool broker_given = false;  // the file has a section for it: one is wanted
  std::string broker_host = "127.0.0.1";
  std::uint16_t broker_port = 1883;
  std::string broker_user, broker_password;
  // The broker keeps messages for this name while the daemon is away; two daemons need two names.
  std::string broker_client = "rindwatch";
  // First part of every topic that the daemon publishes: <prefix>/alive, <prefix>/bell, <prefix>/cave/<number>.
  std::string broker_prefix = "rindwatch";
  // What is looked at besides the probes, to offer topics that are arriving; empty: nothing. A wide filter costs on a
  // busy broker.
  std::string broker_discover = "#";

  std::string database = "rindwatch.db";  // relative to the configuration file's folder
  // A power cut takes at most the readings of this span; a shorter one wears the card more.
  int sync_seconds = 30;

  std::string zone;  // IANA name; empty: the machine's own
  int day_turn = 4;  // the hour at which the keeper's day turns, 0 to 5
  std::string log_level = "info";
  NoticesConfig notices;

  std::string source;  // the file it came from; empty: none, all defaults
};

// One sentence with file and line, what was expected, what was found, what to do.
struct ConfigError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

struct ConfigReading {
  Config config;
  std::vector<std::string> warnings;  // settings that nobody reads, each one sentence
};

// Throws ConfigError. `name` stands for the file in messages and is what relative paths start from.
ConfigReading ReadConfig(std::string_view toml, const std::string& name);
ConfigReading ReadConfigFile(const std::string& path);

}  // namespace rindwatch
