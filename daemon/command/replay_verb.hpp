// `rindwatch replay`: the rules again over what was kept, with the limits in force or with others.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "daemon/config/config.hpp"

namespace rindwatch {

// As the command line filled it in.
struct ReplayVerb {
  std::string from, to;  // days; empty: see --days, and until the newest
  int days = 90;
  std::string cave;  // by name or number; empty: all
  std::string limits, temperature, humidity;
  std::vector<std::string> of_wheels, settings, off, judged;
  std::optional<bool> ready_cheese;
  bool whole = false, json = false, names = false;
};

// Adds the verb. `config` reads the configuration when it runs; `done` hears whether what was replayed unchanged was
// identical. `call` must outlive the parsing.
void AddReplayVerb(CLI::App& app, ReplayVerb& call, const std::function<void(CLI::App&)>& add_config,
                   const std::function<Config()>& config, const std::function<void(bool well)>& done);

}  // namespace rindwatch
