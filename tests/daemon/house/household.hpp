// A whole watch on a stepped clock: real store, engine, book and handlers, no network. Everything happens in the
// test's thread, one thing after another; nothing waits for real time.
#pragma once

#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/post.hpp>
#include <memory>
#include <string>

#include "daemon/api/api.hpp"
#include "daemon/clock/clocks.hpp"
#include "daemon/watch/watch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/house/fickle_store.hpp"

namespace rindwatch::testing {

class Household {
 public:
  // Opens the database and begins to watch at `now`.
  Household(const std::string& database, rules::Instant now) : clock_(now), scheduler_(loop_, clock_) {
    config_.database = database;
    store_ = std::make_unique<FickleStore>(
        Store::Open({.path = database, .purpose = Purpose::kServe}, clock_, Poster()), Poster());
    watch_ = std::make_unique<Watch>(*store_, clock_, scheduler_, Vienna());
    context_ = std::make_unique<ApiContext>(
        ApiContext{.config = config_, .watch = *watch_, .store = *store_, .words = Words::English()});
    AddApi(router_, *context_, [] { return web::Server::Figures{}; });
  }
  // As if killed: whatever was not on disk is lost.
  ~Household() {
    scheduler_.Stop();
    store_->Close();
  }

  Store::Post Poster() {
    return [this](std::function<void()> task) { boost::asio::post(loop_, std::move(task)); };
  }
  void Begin() {
    watch_->Begin();
    Settle();
  }
  void End() {
    bool ended = false;
    watch_->End([&ended] { ended = true; });
    RunUntil(ended);
  }

  rules::Instant Now() const { return clock_.Wall(); }
  Watch& TheWatch() { return *watch_; }
  const Book& TheBook() const { return watch_->TheBook(); }
  FickleStore& TheStore() { return *store_; }
  Scheduler& Schedules() { return scheduler_; }
  ApiContext& Context() { return *context_; }
  Config& TheConfig() { return config_; }
  const Config& TheConfig() const { return config_; }
  const rules::Clock& TheClock() const { return clock_; }
  boost::asio::io_context& Loop() { return loop_; }

  // Lets time go to `at`, through every deadline before it.
  void StepTo(rules::Instant at) {
    while (true) {
      const auto next = scheduler_.Next();
      if (!next || *next > at) break;
      clock_.StepTo(*next);
      scheduler_.RunDue();
      Settle();
    }
    clock_.StepTo(at);
  }

  // One message with the temperature and humidity of channels `first` and `first` + 1.
  void Reads(double temperature, double humidity, rules::ChannelId first = 1) {
    Keep({Reading(first, temperature), Reading(first + 1, humidity)});
  }
  rules::Reading Reading(rules::ChannelId channel, double value) const {
    return {channel,
            Now(),
            Now(),
            std::llround(value * 1000),
            rules::TimeSource::kArrival,
            rules::With(0, rules::Mark::kLive)};
  }
  void Keep(std::vector<rules::Reading> readings) {
    if (!store_->Keep({.topic = "", .fingerprint = 0, .readings = std::move(readings)}).kept)
      throw std::runtime_error("a reading was not kept");
    Settle();
  }

  web::Response Ask(web::Request request) {
    std::optional<web::Response> response;
    router_.Handle(std::move(request), [&response](web::Response answer) { response = std::move(answer); });
    const auto guard = boost::asio::make_work_guard(loop_);
    loop_.restart();
    while (!response) loop_.run_one();
    Settle();
    return *response;
  }
  // "/api/away?from=2026-03-13&back=2026-03-15" too.
  web::Response Get(const std::string& target) {
    web::Request request;
    request.method = "GET";
    request.path = target.substr(0, target.find('?'));
    if (request.path != target) {
      std::string query = target.substr(request.path.size() + 1);
      while (!query.empty()) {
        const std::string one = query.substr(0, query.find('&'));
        query.erase(0, one.size() + 1);
        request.query[one.substr(0, one.find('='))] =
            one.find('=') == std::string::npos ? "" : one.substr(one.find('=') + 1);
      }
    }
    return Ask(std::move(request));
  }
  json::object See(const std::string& path) {
    const web::Response response = Get(path);
    if (response.status != 200) throw std::runtime_error(path + ": " + response.body);
    return json::parse(response.body).as_object();
  }
  web::Response Post(const std::string& body, std::optional<rules::Instant> sent_at = {}) {
    web::Request request;
    request.method = "POST";
    request.path = "/api/acts";
    request.body = body;
    if (sent_at) request.headers["sent-at"] = std::to_string(ToMillis(*sent_at));
    return Ask(std::move(request));
  }
  // An act tapped now; its id may stand in `fields`. Throws what is wrong with it.
  json::object Do(const char* kind, json::object fields) {
    const web::Response response = Post(Act(kind, std::move(fields)), Now());
    if (response.status != 200) throw std::runtime_error(response.body);
    return json::parse(response.body).as_object();
  }
  std::string Act(const char* kind, json::object fields) {
    json::object act{{"id", IdOf(++acts_)}, {"kind", kind}, {"tapped_at", ToMillis(Now())}};
    for (auto& [name, value] : fields) act[name] = value;
    return json::serialize(act);
  }
  // Ids go on from here, so that two households do the same acts under the same ids.
  void SetActs(std::uint64_t acts) { acts_ = acts; }

  std::vector<JournalLine> Journal() {
    std::optional<std::vector<JournalLine>> page;
    store_->JournalPage(0, 100'000, [&page](std::vector<JournalLine> lines) { page = std::move(lines); });
    const auto guard = boost::asio::make_work_guard(loop_);
    loop_.restart();
    while (!page) loop_.run_one();
    std::ranges::reverse(*page);
    return *page;
  }
  // Until the store has nothing more to say: a judgement of what it told may have made new lines.
  void Settle() {
    for (int round = 0; round < 2; ++round) {
      bool answered = false;
      store_->Ping([&answered] { answered = true; });
      RunUntil(answered);
    }
    loop_.restart();
    loop_.poll();
  }

 private:
  void RunUntil(const bool& done) {
    const auto guard = boost::asio::make_work_guard(loop_);
    loop_.restart();
    while (!done) loop_.run_one();
  }

  TrialClock clock_;
  Config config_;
  boost::asio::io_context loop_;
  Scheduler scheduler_;
  std::unique_ptr<FickleStore> store_;
  std::unique_ptr<Watch> watch_;
  std::unique_ptr<ApiContext> context_;
  web::Router router_;
  std::uint64_t acts_ = 0;
};

}  // namespace rindwatch::testing
