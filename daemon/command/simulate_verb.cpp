#include <spdlog/spdlog.h>
#include <unistd.h>

#include <boost/asio/io_context.hpp>
#include <boost/asio/signal_set.hpp>
#include <csignal>
#include <thread>

#include "daemon/clock/clocks.hpp"
#include "daemon/clock/zones.hpp"
#include "daemon/command/verbs.hpp"
#include "daemon/simulate/simulate.hpp"

namespace rindwatch {

int RunSimulatedProbes(const SimulateCall& call) {
  SetUpLog("info");
  TrialClock clock{std::chrono::floor<std::chrono::seconds>(RealClock{}.Wall())};
  SimulateOptions options;
  options.broker = {call.host, call.port, call.user, call.password};
  options.clock = &clock;
  options.zone = LoadZone(call.zone.empty() ? MachineZoneName() : call.zone);
  options.seed = call.seed;
  options.command_lines = STDIN_FILENO;
  options.say = [](std::string_view text) { spdlog::info("{}", text); };
  options.refuse = [](std::string_view text) { spdlog::warn("{}", text); };
  clock.Run(call.speed);
  boost::asio::io_context loop;
  boost::asio::signal_set signals(loop, SIGINT, SIGTERM);
  int status = 0;
  std::jthread fridge([&](const std::stop_token& stop) { status = RunSimulate(options, stop); });
  signals.async_wait([&fridge](const boost::system::error_code&, int) { fridge.request_stop(); });
  loop.run();
  fridge.join();
  return status;
}

}  // namespace rindwatch
