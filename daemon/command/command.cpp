#include "daemon/command/command.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <string_view>

#include "daemon/command/check.hpp"
#include "daemon/command/config_places.hpp"
#include "daemon/command/plan_verb.hpp"
#include "daemon/command/replay_verb.hpp"
#include "daemon/command/verbs.hpp"
#include "daemon/trial/trial.hpp"
#include "daemon/version.hpp"

namespace rindwatch {

namespace {

// What several verbs share.
struct Shared {
  std::string config;
  bool json = false;
  std::string plan;
};

ConfigReading Configuration(const Shared& shared) {
  const std::string path = ConfigPath(shared.config);
  return path.empty() ? ConfigReading{} : ReadConfigFile(path);
}

void AddConfig(CLI::App* verb, Shared& shared) {
  verb->add_option("--config", shared.config, fmt::format("The configuration file (else {})", ConfigPlaces()));
}
void AddJson(CLI::App* verb, Shared& shared) { verb->add_flag("--json", shared.json, "Print data as JSON"); }

void AddTry(CLI::App& app, TrialOptions& trial, int& status) {
  CLI::App* verb =
      app.add_subcommand("try", "Try it: an invented fridge or farm with weeks behind it, on a fast clock");
  verb->add_option("--folder", trial.folder,
                   "Where its database lies; an earlier trial there goes on (else a new one)");
  verb->add_option("--speed", trial.speed, "How many times as fast the clock goes")
      ->check(CLI::Range(1.0, 3600.0))
      ->capture_default_str();
  verb->add_option("--listen", trial.address, "Address to listen on; 0.0.0.0 lets phones of this network in")
      ->capture_default_str();
  verb->add_option("--port", trial.port, "Port of the page (else the usual one, or one that is free)");
  verb->add_option("--days", trial.past_days, "How many days are lived before the page opens")
      ->check(CLI::Range(1, 60))
      ->capture_default_str();
  verb->add_option("--seed", trial.seed, "Equal seeds make equal fridges")->capture_default_str();
  verb->add_flag("--farm", trial.farm, "A farm with two rooms, three hundred wheels and a helper instead of a fridge");
  verb->add_flag("--careless", trial.careless, "The keepers of the past forget, do in part and write things down late");
  auto* calm = verb->add_flag("--calm", trial.calm, "No mishaps by chance, only those that you ask for");
  verb->add_flag("--mishaps", trial.mishaps, "Mishaps by chance in the days before, too: weeks of alarms to look at")
      ->excludes(calm);
  verb->add_option("--zone", trial.zone, "The keeper's zone, such as Europe/Vienna (else this machine's)");
  verb->callback([&trial, &status] {
    SetUpLog("warn");
    RunTrial(trial);
    status = 0;
  });
}

void AddSimulate(CLI::App& app, SimulateCall& call, int& status) {
  CLI::App* verb = app.add_subcommand("simulate", "A simulated fridge that publishes to a broker as real probes do");
  verb->add_option("--host", call.host, "The broker")->capture_default_str();
  verb->add_option("--port", call.port, "Its port")->capture_default_str();
  verb->add_option("--user", call.user, "User at the broker");
  verb->add_option("--password", call.password, "Password at the broker");
  verb->add_option("--speed", call.speed, "How many times as fast the fridge lives")
      ->check(CLI::Range(1.0, 3600.0))
      ->capture_default_str();
  verb->add_option("--seed", call.seed, "Equal seeds make equal fridges")->capture_default_str();
  verb->add_option("--zone", call.zone, "The keeper's zone (else this machine's)");
  verb->footer(
      "It takes mishaps as lines on standard input and on the topic simulate/command:\n"
      "  door ajar 30m | compressor dead | compressor mended | probe silent|stuck|wet NAME | probe back NAME |\n"
      "  power cut 1h | thermostat drifts | coil ices | wick dry | heat wave | delivery | box Box 1 lid shut|ajar|off");
  verb->callback([&call, &status] { status = RunSimulatedProbes(call); });
}

void AddWatchVerbs(CLI::App& app, Shared& shared, int& status) {
  CLI::App* serve = app.add_subcommand("serve", "Keep watch: take in readings, judge them, serve the page");
  AddConfig(serve, shared);
  serve->callback([&] {
    RunServe(Configuration(shared));
    status = 0;
  });
  CLI::App* now = app.add_subcommand("now", "How things stand");
  AddConfig(now, shared);
  AddJson(now, shared);
  now->callback([&] {
    PrintNow(Configuration(shared).config, shared.json);
    status = 0;
  });
  CLI::App* check = app.add_subcommand("check", "Check the configuration and, where there is one, the database");
  AddConfig(check, shared);
  AddJson(check, shared);
  check->add_option("--plan", shared.plan, "Check this file of an ageing plan instead");
  check->callback([&] {
    const bool sound =
        shared.plan.empty() ? RunCheck(Configuration(shared), shared.json) : CheckPlanFile(shared.plan, shared.json);
    status = sound ? 0 : 1;
  });
}

void AddRound(CLI::App& app, Shared& shared, RoundCall& call, int& status) {
  CLI::App* round = app.add_subcommand("round", "The cares of a day in working order");
  AddConfig(round, shared);
  AddJson(round, shared);
  round->add_option("--date", call.date, "Another day: one that is over as it ended, one to come as it is expected");
  round->add_option("--days", call.days, "So many days from then on")->check(CLI::Range(1, 400));
  round->add_option("--ics", call.ics, "Write the coming rounds to this file as a calendar (RFC 5545); - prints it");
  round->callback([&] {
    call.as_json = shared.json;
    PrintRound(Configuration(shared).config, call);
    status = 0;
  });
}

bool HasVerb(const CLI::App& app, std::string_view name) {
  return std::ranges::any_of(app.get_subcommands(nullptr),
                             [name](const CLI::App* verb) { return verb->get_name() == name; });
}

}  // namespace

int RunCommand(int argc, const char* const* argv) {
  CLI::App app{
      "Rindwatch keeps watch over ripening cheese: the climate of each cave, the care that each wheel's age asks for."};
  app.set_version_flag("--version", std::string("rindwatch ") + Version());
  app.require_subcommand(1);
  int status = 1;
  Shared shared;
  TrialOptions trial;
  SimulateCall simulate;
  RoundCall round;
  PlanCall plan;
  ReplayVerb replay;
  AddWatchVerbs(app, shared, status);
  AddRound(app, shared, round, status);
  AddPlanVerb(
      app, plan, [&shared](CLI::App& verb) { AddConfig(&verb, shared); },
      [&shared] { return Configuration(shared).config; }, [&status] { status = 0; });
  AddReplayVerb(
      app, replay, [&shared](CLI::App& verb) { AddConfig(&verb, shared); },
      [&shared] { return Configuration(shared).config; }, [&status](bool well) { status = well ? 0 : 1; });
  AddTry(app, trial, status);
  AddSimulate(app, simulate, status);
  if (argc > 1 && argv[1][0] != '-' && !HasVerb(app, argv[1])) {
    fmt::print(stderr, "rindwatch: there is no verb \"{}\"; rindwatch --help lists those there are.\n", argv[1]);
    return 2;
  }
  try {
    app.parse(argc, argv);
    return status;
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  } catch (const std::exception& error) {
    fmt::print(stderr, "rindwatch: {}\n", error.what());
    return 1;
  }
}

}  // namespace rindwatch
