#include "daemon/trial/past_living.hpp"

#include <boost/asio/executor_work_guard.hpp>
#include <functional>
#include <stdexcept>

#include "daemon/notices/notices.hpp"
#include "daemon/trial/address.hpp"
#include "daemon/trial/phone.hpp"
#include "daemon/trial/tale.hpp"
#include "sensors/intake.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::seconds;

namespace {

// Hands the past's messages through the same intake and sink as the broker's, on the stepped clock.
class PastLiving {
 public:
  PastLiving(House& house, TrialClock& clock, Tale& tale) : house_(house), clock_(clock), tale_(tale) {}

  void Take(const ProbeMessage& message) {
    StepTo(message.at);
    const auto read = intake_.Look({.topic = message.topic, .payload = message.payload, .at = message.at}, Routes());
    if (read.batch.readings.empty()) return;
    const auto kept = house_.TheStore().Keep(read.batch);
    if (!kept.kept) throw std::runtime_error("The trial's past cannot be written: " + house_.TheStore().Health().why);
    intake_.Settle(read.batch, kept);
    house_.Settle();
  }
  // To an instant, through every deadline and chapter before it.
  void StepTo(Instant at) {
    while (true) {
      const Instant deadline = house_.Schedules().Next().value_or(Instant::max());
      const Instant next = std::min(deadline, tale_.Next());
      if (next > at) break;
      clock_.StepTo(next);
      house_.Schedules().RunDue();
      // A decision is written, then its letter, then that the queue has it: only then the next deadline is known.
      for (int written = 0; written < 3; ++written) AwaitStore();
      tale_.Live(next);
      routes_known_ = false;
    }
    clock_.StepTo(at);
  }

 private:
  // A deadline goes through the store's thread and comes back.
  void AwaitStore() {
    bool answered = false;
    house_.TheStore().Ping([&answered] { answered = true; });
    while (!answered) {
      house_.Loop().restart();
      house_.Loop().run_one();
    }
  }
  const sensors::RouteTable& Routes() {
    if (!routes_known_) {
      std::vector<sensors::Route> routes;
      for (const ProbeRow* probe : house_.TheWatch().TheBook().Probes()) routes.push_back(probe->route);
      routes_ = sensors::RouteTable(std::move(routes));
      routes_known_ = true;
    }
    return routes_;
  }

  House& house_;
  TrialClock& clock_;
  Tale& tale_;
  sensors::Intake intake_;
  sensors::RouteTable routes_;
  bool routes_known_ = false;
};

void RunLoopUntil(House& house, const std::function<bool()>& done) {
  const auto guard = boost::asio::make_work_guard(house.Loop());
  house.Loop().restart();
  while (!done()) house.Loop().run_one();
}

}  // namespace

LivedFridge PlaceBefore(const PastOptions& options, Instant now, seconds past, const rules::Zone& zone) {
  return options.farm ? DemoCellarBefore(now, past, options.seed, zone)
                      : DemoFridgeBefore(now, past, options.seed, zone);
}

LivedFridge LiveThePast(House& house, TrialClock& clock, const PastOptions& options, Instant now,
                        const Config& config) {
  web::Router router;
  const ApiContext context{config, house.TheWatch(), house.TheStore(), nullptr, nullptr, Words::English(), true, false};
  AddApi(router, context, [] { return web::Server::Figures{}; });
  // Nobody is written to; what would have gone out is kept to be shown.
  Notices notices(context, house.Schedules(), {});
  notices.SetPage(PageAddress("127.0.0.1", config.listen_port));
  house.TheWatch().Tell(notices);
  notices.Begin();
  RunLoopUntil(house, [&notices] { return notices.Begun(); });
  Phone phone(house, router, options.seed);
  const auto tale = TaleOf(options.farm ? Scene::kFarm : Scene::kFridge, phone, now, options.seed, options.careless);
  PastLiving past(house, clock, *tale);
  LivedFridge lived = PlaceBefore(options, now, std::chrono::floor<seconds>(now - clock.Wall()),
                                  house.TheWatch().TheBook().Home().zone);
  Mischance mischance(options.seed, lived.fridge.Elapsed(), lived.fridge.Spec().probes);
  const auto tell = [&past](const ProbeMessage& message) {
    past.Take(message);
    return true;
  };
  LivePast(lived, now, tell, options.mishaps ? &mischance : nullptr);
  past.StepTo(now);
  notices.Stop();
  house.TheWatch().Untell(notices);
  // What the store still has to answer to it.
  bool answered = false;
  house.TheStore().Ping([&answered] { answered = true; });
  RunLoopUntil(house, [&answered] { return answered; });
  return lived;
}

}  // namespace rindwatch
