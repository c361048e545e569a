// What every answer is made from. References to things that live as long as the daemon; the loop's thread.
#pragma once

#include <map>
#include <memory>
#include <string>

#include "daemon/api/band_steps.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/config/config.hpp"
#include "daemon/store/store.hpp"
#include "daemon/watch/watch.hpp"
#include "daemon/words/words.hpp"
#include "web/events.hpp"

namespace rindwatch {

class ReplayRunner;
class Notices;

// What was foreseen for wheels in boxes of their own, by alarm: worked out once a minute, not with every answer.
struct Foreseen {
  rules::Instant at;
  std::vector<rules::Matter> matters;
};
using ForecastMemory = std::map<std::string, Foreseen>;

struct ApiContext {
  const Config& config;
  Watch& watch;
  Store& store;
  const BrokerSide* broker = nullptr;   // null: asked by the command line, nothing is connected
  const web::Events* events = nullptr;  // null: likewise
  const Words& words;
  bool trial = false;  // invented data on a clock of its own
  bool open = false;   // anyone on the network can write
  std::shared_ptr<BandMemory> bands = std::make_shared<BandMemory>();
  std::shared_ptr<ForecastMemory> forecasts = std::make_shared<ForecastMemory>();
  ReplayRunner* replays = nullptr;  // null: asked by the command line
  Notices* notices = nullptr;       // null: asked by the command line, nobody is told anything

  const Book& book() const { return watch.TheBook(); }
  rules::Instant now() const { return watch.Now(); }
};

}  // namespace rindwatch
