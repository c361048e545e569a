#include "daemon/trial/trial.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>
#include <stdlib.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <stop_token>
#include <thread>

#include "daemon/clock/clocks.hpp"
#include "daemon/clock/zones.hpp"
#include "daemon/house/house.hpp"
#include "daemon/serve/serve.hpp"
#include "daemon/simulate/simulate.hpp"
#include "daemon/trial/address.hpp"
#include "daemon/trial/pace.hpp"
#include "daemon/trial/past_living.hpp"
#include "daemon/trial/private_broker.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::seconds;

namespace {

std::string FolderOf(const TrialOptions& options) {
  if (!options.folder.empty()) {
    std::filesystem::create_directories(options.folder);
    return std::filesystem::absolute(options.folder).string();
  }
  std::string pattern = (std::filesystem::temp_directory_path() / "rindwatch-try-XXXXXX").string();
  if (!mkdtemp(pattern.data()))
    throw std::runtime_error("No folder can be made among the temporary files; name one with --folder.");
  return pattern;
}

// A trial that goes on plays where it began: the folder holds a mark.
void RememberScene(const std::string& folder, bool goes_on, bool& farm) {
  const std::string mark = folder + "/farm";
  if (goes_on) farm = std::filesystem::exists(mark);
  if (!goes_on && farm) std::ofstream{mark} << "This trial plays on a farm; all of it is invented.\n";
}

Config ConfigOf(const TrialOptions& options, const std::string& folder, std::uint16_t broker_port) {
  Config config;
  config.listen_address = options.address;
  if (options.port)
    config.listen_port = *options.port;
  else if (!IsFree(options.address, config.listen_port))
    config.listen_port = 0;
  config.broker_port = broker_port;
  config.database = folder + "/rindwatch.db";
  config.zone = options.zone.empty() ? MachineZoneName() : options.zone;
  return config;
}

void Announce(const TrialOptions& options, const std::string& folder, std::uint16_t broker_port, std::uint16_t port) {
  const bool alone = IsThisMachineAlone(options.address);
  const std::string here = PageAddress(alone || options.address == "0.0.0.0" ? "127.0.0.1" : options.address, port);
  fmt::print("\nThe page:        {}\n", here);
  if (!alone) {
    const std::string phone = PageAddress(AddressForPhones(options.address), port);
    fmt::print("From a phone:    {}\n{}Anyone on this network can read and write there.\n", phone, QrCode(phone));
  }
  fmt::print("The clock:       {:g} times as fast; fridge, keepers and cheeses are invented.\n", options.speed);
  fmt::print("                 It waits where this machine is too busy for that.\n");
  fmt::print("The database:    {}\n", folder);
  fmt::print("The broker:      127.0.0.1:{}\n", broker_port);
  if (!options.calm)
    fmt::print("By chance:       a mishap every day or three of that clock; --calm leaves them out.\n");
  fmt::print("Make it misbehave, in another terminal:\n");
  for (const char* mishap :
       {"door ajar 6h", "compressor dead", "compressor mended", "probe silent Fridge air", "power cut 2h"}) {
    fmt::print("  mosquitto_pub -h 127.0.0.1 -p {} -t simulate/command -m \"{}\"\n", broker_port, mishap);
  }
  fmt::print("Ctrl-C ends it.\n");
  std::fflush(stdout);
}

// Tells the pace which topics the watch listens to.
class Routes : public WatchListener {
 public:
  Routes(const Book& book, Pace& pace) : book_(book), pace_(pace) { Tell(); }

 private:
  void OnJudged() override {}
  void OnLine(const JournalLine&, const std::vector<Fact>&) override { Tell(); }
  void OnDecisions(const std::vector<rules::Decision>&) override {}
  void Tell() {
    std::vector<std::string> filters;
    for (const ProbeRow* probe : book_.Probes()) {
      if (book_.HangsIn(*probe)) filters.push_back(probe->route.filter);
    }
    pace_.ListenTo(std::move(filters));
  }

  const Book& book_;
  Pace& pace_;
};

}  // namespace

void RunTrial(const TrialOptions& asked) {
  TrialOptions options = asked;
  const std::string folder = FolderOf(options);
  const bool goes_on = std::filesystem::exists(folder + "/rindwatch.db");
  RememberScene(folder, goes_on, options.farm);
  PrivateBroker broker(folder);
  const Config config = ConfigOf(options, folder, broker.Port());

  const Instant now = std::chrono::floor<seconds>(RealClock{}.Wall());
  // A trial that goes on in its folder does so where its own fast clock stopped.
  Instant start = now - std::chrono::days{options.past_days};
  if (goes_on) {
    const TrialClock standing{start};
    House before(config, standing, Purpose::kTrial);
    if (const auto last = before.TheStore().ReadLast()) start = std::chrono::ceil<seconds>(last->at + seconds{1});
  }
  TrialClock clock{start};
  House house(config, clock, Purpose::kTrial);
  ServeOptions serve;
  serve.purpose = Purpose::kTrial;
  serve.known = house.TheStore().ReadLastKnown();
  house.TheWatch().Begin();
  house.Settle();

  SimulateOptions simulate;
  if (goes_on) {
    simulate.lived =
        PlaceBefore({options.seed, options.farm}, start, seconds{0}, house.TheWatch().TheBook().Home().zone);
  } else {
    fmt::print("Living the last {} days ...\n", options.past_days);
    std::fflush(stdout);
    simulate.lived =
        LiveThePast(house, clock, {options.seed, options.farm, options.careless, options.mishaps}, now, config);
    serve.known = {};
  }
  simulate.broker.port = broker.Port();
  simulate.clock = &clock;
  simulate.zone = house.TheWatch().TheBook().Home().zone;
  simulate.seed = options.seed;
  simulate.by_chance = !options.calm;
  simulate.say = [](std::string_view text) { spdlog::info("The simulated fridge: {}", text); };
  // Whoever typed it waits for something that will never come.
  simulate.refuse = [](std::string_view text) { spdlog::warn("The simulated fridge does nothing: {}", text); };
  Pace pace(clock, [] { return std::chrono::nanoseconds{std::chrono::steady_clock::now().time_since_epoch()}; });
  Routes routes(house.TheWatch().TheBook(), pace);
  house.TheWatch().Tell(routes);
  simulate.listening = &pace;
  serve.connected = [&pace] { pace.Listens(); };
  serve.heard = [&pace] { pace.Heard(); };
  clock.Run(options.speed);
  std::jthread fridge([&simulate](const std::stop_token& stop) { RunSimulate(simulate, stop); });
  serve.stopping = [&fridge] { fridge.request_stop(); };
  serve.ready = [&](std::uint16_t port) { Announce(options, folder, broker.Port(), port); };
  Serve(house, config, serve);
}

}  // namespace rindwatch
