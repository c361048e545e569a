// What the verbs do, each with its call as the command line filled it in. All print to standard output, log to standard
// error, and throw std::runtime_error with one sentence for the keeper.
#pragma once

#include <cstdint>
#include <string>

#include "daemon/config/config.hpp"

namespace rindwatch {

// Log lines go to standard error, from this level on.
void SetUpLog(const std::string& level);

// Keeps watch until a signal asks to stop.
void RunServe(const ConfigReading& reading);
void PrintNow(const Config& config, bool as_json);

struct RoundCall {
  std::string date;  // empty: today
  int days = 0;      // so many days, one list after the other; 0: one, or a calendar's usual span
  std::string ics;   // writes a calendar to this file instead; "-": to standard output
  bool as_json = false;
};
void PrintRound(const Config& config, const RoundCall& call);

struct SimulateCall {
  std::string host = "127.0.0.1", user, password, zone;
  std::uint16_t port = 1883;
  double speed = 1;
  std::uint64_t seed = 20;
};
// Publishes until a signal asks to stop; the exit status.
int RunSimulatedProbes(const SimulateCall& call);

}  // namespace rindwatch
