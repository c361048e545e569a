#include "daemon/house/house.hpp"

#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/post.hpp>
#include <optional>

#include "daemon/clock/zones.hpp"

namespace rindwatch {

rules::DayTurn HomeOf(const Config& config) {
  return {LoadZone(config.zone.empty() ? MachineZoneName() : config.zone), config.day_turn};
}

House::House(const Config& config, const rules::Clock& clock, Purpose purpose)
    : clock_(clock), scheduler_(loop_, clock) {
  rules::DayTurn home = HomeOf(config);
  const Store::Settings settings{config.database, purpose, std::chrono::seconds{config.sync_seconds}};
  store_ = Store::Open(settings, clock, Poster());
  watch_ = std::make_unique<Watch>(*store_, clock, scheduler_, std::move(home));
}

House::~House() {
  scheduler_.Stop();
  store_->Close();
}

Store::Post House::Poster() {
  return [this](std::function<void()> task) { boost::asio::post(loop_, std::move(task)); };
}

web::Response House::Ask(const web::Router& router, const web::Request& request) {
  std::optional<web::Response> response;
  router.Handle(request, [&response](web::Response answer) { response = std::move(answer); });
  const auto guard = boost::asio::make_work_guard(loop_);
  loop_.restart();
  while (!response) loop_.run_one();
  return *response;
}

void House::Settle() {
  loop_.restart();
  loop_.poll();
}

}  // namespace rindwatch
