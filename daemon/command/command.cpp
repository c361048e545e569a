#include "daemon/command/command.hpp"

#include <fmt/format.h>
#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/signal_set.hpp>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "daemon/clock/clocks.hpp"
#include "daemon/clock/zones.hpp"
#include "daemon/command/asking.hpp"
#include "daemon/command/check.hpp"
#include "daemon/command/text.hpp"
#include "daemon/house/house.hpp"
#include "daemon/serve/serve.hpp"
#include "daemon/simulate/simulate.hpp"
#include "daemon/trial/address.hpp"
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

// The file that --config names, else the variable, else the usual places; none: all settings as they come.
std::string ConfigPath(const std::string& named) {
  if (!named.empty()) return named;
  if (const char* variable = std::getenv("RINDWATCH_CONFIG")) return variable;
  for (const char* usual : {"rindwatch.toml", "/etc/rindwatch/rindwatch.toml"}) {
    if (std::filesystem::exists(usual)) return usual;
  }
  return {};
}

ConfigReading Configuration(const Shared& shared) {
  const std::string path = ConfigPath(shared.config);
  return path.empty() ? ConfigReading{} : ReadConfigFile(path);
}

void SetUpLog(const std::string& level) {
  auto log = spdlog::stderr_color_mt("rindwatch");
  log->set_pattern("%Y-%m-%d %H:%M:%S %^%l%$ %v");
  spdlog::set_default_logger(std::move(log));
  spdlog::set_level(spdlog::level::from_str(level));
}

int RunServe(const Shared& shared) {
  const ConfigReading reading = Configuration(shared);
  SetUpLog(reading.config.log_level);
  for (const std::string& warning : reading.warnings) spdlog::warn("{}", warning);
  const RealClock clock;
  House house(reading.config, clock, Purpose::kServe);
  ServeOptions options;
  options.known = house.TheStore().ReadLastKnown();
  options.ready = [&](std::uint16_t port) {
    const std::string address = AddressForPhones(reading.config.listen_address);
    spdlog::info("Rindwatch {} keeps watch; the page is at {}", Version(), PageAddress(address, port));
    if (!IsThisMachineAlone(reading.config.listen_address)) {
      spdlog::warn("Anyone on this network can read and write on the page until there is sign-in.");
    }
  };
  options.begin = [&house] { house.TheWatch().Begin(); };
  Serve(house, reading.config, options);
  return 0;
}

int RunNow(const Shared& shared) {
  const auto caves = AskDaemon(Configuration(shared).config, "/api/caves");
  fmt::print("{}", shared.json ? boost::json::serialize(caves) + "\n" : NowText(Words::English(), caves));
  return 0;
}

int RunRound(const Shared& shared) {
  const Config config = Configuration(shared).config;
  const auto round = AskDaemon(config, "/api/round");
  if (shared.json) {
    fmt::print("{}\n", boost::json::serialize(round));
    return 0;
  }
  fmt::print("{}", RoundText(Words::English(), round, AskDaemon(config, "/api/caves")));
  return 0;
}

struct SimulateCall {
  std::string host = "127.0.0.1", user, password, zone;
  std::uint16_t port = 1883;
  double speed = 1;
  std::uint64_t seed = 20;
};

int RunSimulateVerb(const SimulateCall& call) {
  SetUpLog("info");
  TrialClock clock{std::chrono::floor<std::chrono::seconds>(RealClock{}.Wall())};
  SimulateOptions options;
  options.broker = {call.host, call.port, call.user, call.password};
  options.clock = &clock;
  options.zone = LoadZone(call.zone.empty() ? MachineZoneName() : call.zone);
  options.seed = call.seed;
  options.command_lines = STDIN_FILENO;
  options.say = [](std::string_view text) { spdlog::info("{}", text); };
  clock.Run(call.speed);
  boost::asio::io_context loop;
  boost::asio::signal_set signals(loop, SIGINT, SIGTERM);
  int status = 0;
  std::jthread fridge([&](std::stop_token stop) { status = RunSimulate(options, stop); });
  signals.async_wait([&fridge](const boost::system::error_code&, int) { fridge.request_stop(); });
  loop.run();
  fridge.join();
  return status;
}

void AddConfig(CLI::App* verb, Shared& shared) {
  verb->add_option("--config", shared.config,
                   "The configuration file (else $RINDWATCH_CONFIG, ./rindwatch.toml, /etc/rindwatch/rindwatch.toml)");
}
void AddJson(CLI::App* verb, Shared& shared) { verb->add_flag("--json", shared.json, "Print data as JSON"); }

void AddTry(CLI::App& app, TrialOptions& trial, int& status) {
  CLI::App* verb = app.add_subcommand("try", "Try it: an invented fridge with two weeks behind it, on a fast clock");
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
      "  door ajar 30m | compressor dead | compressor mended | probe silent NAME | probe back NAME |\n"
      "  power cut 1h | box Box 1 lid shut|ajar|off");
  verb->callback([&call, &status] { status = RunSimulateVerb(call); });
}

void AddWatchVerbs(CLI::App& app, Shared& shared, int& status) {
  CLI::App* serve = app.add_subcommand("serve", "Keep watch: take in readings, judge them, serve the page");
  AddConfig(serve, shared);
  serve->callback([&] { status = RunServe(shared); });
  CLI::App* now = app.add_subcommand("now", "How things stand");
  AddConfig(now, shared);
  AddJson(now, shared);
  now->callback([&] { status = RunNow(shared); });
  CLI::App* round = app.add_subcommand("round", "Today's cares in working order");
  AddConfig(round, shared);
  AddJson(round, shared);
  round->callback([&] { status = RunRound(shared); });
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
  AddWatchVerbs(app, shared, status);
  AddTry(app, trial, status);
  AddSimulate(app, simulate, status);
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
