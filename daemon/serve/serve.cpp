#include "daemon/serve/serve.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/asio/ip/address.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>
#include <csignal>
#include <filesystem>

#include "daemon/book/fields.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/notices/curl_carrier.hpp"
#include "daemon/notices/notices.hpp"
#include "daemon/notices/told_broker.hpp"
#include "daemon/notices/well_ping.hpp"
#include "daemon/replay/runner.hpp"
#include "daemon/serve/news.hpp"
#include "daemon/serve/service_manager.hpp"
#include "daemon/trial/address.hpp"
#include "web/assets.hpp"
#include "web/embedded_page.hpp"
#include "web/server.hpp"

namespace rindwatch {

namespace {

web::ServerOptions ServerOptionsOf(const Config& config) {
  web::ServerOptions options;
  options.address = config.listen_address;
  options.port = config.listen_port;
  options.socket_path = SocketOf(config);
  options.host_names = config.listen_names;
  options.host_names_setting = "the list names under [listen] in the configuration";
  options.log = [](std::string_view text) { spdlog::warn("{}", text); };
  return options;
}

constexpr std::chrono::seconds kLook{5};
constexpr std::chrono::milliseconds kLookForBroker{20};

std::unique_ptr<Carrier> CarrierOf(House& house, const Config& config, Purpose purpose) {
  if (purpose == Purpose::kTrial) return nullptr;
  return std::make_unique<CurlCarrier>(config.notices, Words::English(), house.Poster());
}

// Everything that `serve` puts on a house, in order of need; taken down in reverse.
class Service {
 public:
  Service(House& house, const Config& config, const ServeOptions& options)
      : house_(house),
        options_(options),
        events_(web::Events::Options{.run = std::to_string(ToMillis(house.TheClock().Wall()))}),
        broker_(config, house.TheWatch(), house.TheStore(), house.TheClock(), house.Poster()),
        replays_(config.database, house.TheWatch().TheBook().Home(), house.Poster()),
        context_{config,
                 house.TheWatch(),
                 house.TheStore(),
                 &broker_,
                 &events_,
                 Words::English(),
                 options.purpose == Purpose::kTrial,
                 !IsThisMachineAlone(config.listen_address),
                 std::make_shared<BandMemory>(),
                 std::make_shared<ForecastMemory>(),
                 &replays_},
        carrier_(CarrierOf(house, config, options.purpose)),
        notices_(context_, house.Schedules(),
                 {carrier_.get(), config.notices.page, [this] { news_.TellOf("notices"); }}),
        told_broker_(context_, broker_, house.Schedules()),
        ping_(config.notices.ping, house.TheStore(), house.Schedules(), house.TheClock(), carrier_.get(),
              [this] { return broker_.IsClockKnown(); }),
        assets_(web::EmbeddedPage()),
        news_(house.Loop(), house.Schedules(), house.TheWatch(), events_),
        signals_(house.Loop(), SIGINT, SIGTERM),
        watchdog_(house.Loop()),
        look_(house.Loop()),
        look_for_broker_(house.Loop()),
        config_(config) {
    AddApi(router_, context_, [this] { return server_->Now(); });
    router_.Otherwise(assets_.AsHandler());
    const auto handle = [this](const web::Request& request, const web::Answer& answer) {
      router_.Handle(request, answer);
    };
    server_ = std::make_unique<web::Server>(house.Loop(), ServerOptionsOf(config), handle, events_, nobody_);
    house.TheWatch().Tell(broker_);
    house.TheWatch().Tell(news_);
    house.TheWatch().Tell(notices_);
    house.TheWatch().Tell(told_broker_);
    context_.notices = &notices_;
  }

  Ended Run() {
    if (options_.begin) options_.begin();
    broker_.OnHeard(options_.heard);
    broker_.Begin(options_.known);
    if (options_.connected) AwaitBroker();
    news_.Begin();
    if (notices_.Page().empty())
      notices_.SetPage(PageAddress(AddressForPhones(config_.listen_address), server_->Port()));
    notices_.Begin();
    told_broker_.Begin();
    ping_.Begin();
    LookAtClock();
    signals_.async_wait([this](const boost::system::error_code& error, int) {
      if (!error) Stop();
    });
    if (options_.ready) options_.ready(server_->Port());
    manager_.Tell("READY=1");
    FeedWatchdog();
    RunLoop();
    return ended_;
  }

 private:
  // A fault in one task is told and ends that task alone: the watch goes on.
  void RunLoop() {
    house_.Loop().restart();
    while (true) {
      try {
        house_.Loop().run();
        return;
      } catch (const ActFault& fault) {
        spdlog::error("A task of the watch was given up: {}", fault.what);
      } catch (const std::exception& error) {
        spdlog::error("A task of the watch was given up: {}", error.what());
      }
    }
  }
  // Only while the loop comes here and the store answers and may write: what another program holds for so long is
  // watched by nobody.
  void FeedWatchdog() {
    const auto span = manager_.WatchdogSpan();
    if (!span) return;
    watchdog_.expires_after(*span / 3);
    watchdog_.async_wait([this](const boost::system::error_code& error) {
      if (error) return;
      house_.TheStore().TryToWrite([this](bool may) {
        if (may) manager_.Tell("WATCHDOG=1");
        FeedWatchdog();
      });
    });
  }

  // A wall clock that is set wakes nobody by itself.
  void LookAtClock() {
    look_.expires_after(kLook);
    look_.async_wait([this](const boost::system::error_code& error) {
      if (error) return;
      broker_.LookAtClock();
      notices_.LookAtClock();
      if (broker_.WasAhead()) return EndAsWasAhead();
      LookAtClock();
    });
  }

  void AwaitBroker() {
    if (broker_.IsConnected()) return options_.connected();
    look_for_broker_.expires_after(kLookForBroker);
    look_for_broker_.async_wait([this](const boost::system::error_code& error) {
      if (!error) AwaitBroker();
    });
  }

  void EndAsWasAhead() {
    spdlog::warn("This machine's clock was ahead and was set back to {}: what was kept until {} bears wrong times.",
                 ToText(house_.TheClock().Wall()), ToText(broker_.KeptUntil()));
    ended_ = Ended::kWasAhead;
    Stop();
  }

  // In steps: no more readings, no more requests, the last line and the state on disk, then out of the loop.
  void Stop() {
    if (ended_ == Ended::kAsked) manager_.Tell("STOPPING=1");
    spdlog::info("Stopping.");
    if (options_.stopping) options_.stopping();
    watchdog_.cancel();
    look_.cancel();
    look_for_broker_.cancel();
    news_.Stop();
    notices_.Stop();
    told_broker_.Stop();
    ping_.Stop();
    broker_.StopReadings();
    server_->Stop([this] {
      house_.TheWatch().End([this] {
        broker_.StopPublishing();
        house_.Schedules().Stop();
        house_.Loop().stop();
      });
    });
    // A second signal does not wait.
    signals_.async_wait([this](const boost::system::error_code& error, int) {
      if (!error) house_.Loop().stop();
    });
  }

  House& house_;
  const ServeOptions& options_;
  web::Events events_;
  BrokerSide broker_;
  ReplayRunner replays_;
  ApiContext context_;
  std::unique_ptr<Carrier> carrier_;  // null in a trial: it sends to nobody
  Notices notices_;
  ToldBroker told_broker_;
  WellPing ping_;
  web::Assets assets_;
  web::Router router_;
  web::NobodyKnown nobody_;
  News news_;
  std::unique_ptr<web::Server> server_;
  ServiceManager manager_;
  boost::asio::signal_set signals_;
  boost::asio::steady_timer watchdog_, look_, look_for_broker_;
  const Config& config_;
  Ended ended_ = Ended::kAsked;
};

}  // namespace

bool IsThisMachineAlone(const std::string& address) {
  boost::system::error_code error;
  const auto parsed = boost::asio::ip::make_address(address, error);
  return !error && parsed.is_loopback();
}

std::string SocketOf(const Config& config) {
  return (std::filesystem::path(config.database).parent_path() / "rindwatch.sock").string();
}

Ended Serve(House& house, const Config& config, const ServeOptions& options) {
  Service service(house, config, options);
  return service.Run();
}

}  // namespace rindwatch
