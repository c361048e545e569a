// The daemon without its ways to the outside: loop, store, watch and the API's handlers, built in order of need.
// `serve` puts the network on it, the command line asks it directly, a trial lives its past in it.
#pragma once

#include <boost/asio/io_context.hpp>
#include <memory>

#include "daemon/api/api.hpp"
#include "daemon/clock/scheduler.hpp"
#include "daemon/config/config.hpp"
#include "daemon/store/store.hpp"
#include "daemon/watch/watch.hpp"

namespace rindwatch {

class House {
 public:
  // Opens the store; throws StoreError. `config` and `clock` must outlive the house.
  House(const Config& config, const rules::Clock& clock, Purpose purpose);
  ~House();
  House(const House&) = delete;
  House& operator=(const House&) = delete;

  boost::asio::io_context& Loop() { return loop_; }
  rules::Clock const& TheClock() const { return clock_; }
  Scheduler& Schedules() { return scheduler_; }
  Store& TheStore() { return *store_; }
  Watch& TheWatch() { return *watch_; }
  // Runs a function in the loop's thread; any thread.
  Store::Post Poster();

  // Asks a handler and runs the loop until it answers: for the command line and a lived past, where nobody else runs
  // the loop.
  web::Response Ask(const web::Router& router, const web::Request& request);
  // Runs what is ready in the loop.
  void Settle();

 private:
  const rules::Clock& clock_;
  boost::asio::io_context loop_;
  Scheduler scheduler_;
  std::unique_ptr<Store> store_;
  std::unique_ptr<Watch> watch_;
};

// The zone and hour of the configuration; throws std::runtime_error with a sentence.
rules::DayTurn HomeOf(const Config& config);

}  // namespace rindwatch
