#include "daemon/broker/broker_side.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>
#include <boost/json.hpp>

#include <algorithm>

#include "daemon/api/views.hpp"

namespace rindwatch {

using rules::Millis;

namespace {

// A clock that shows less than what was kept last, by more than this, has not been set yet.
constexpr Millis kClockSlack = std::chrono::minutes{2};

sensors::Broker BrokerOf(const Config& config) {
  return {config.broker_host, config.broker_port, config.broker_user, config.broker_password};
}

}  // namespace

BrokerSide::BrokerSide(const Config& config, Watch& watch, Store& store, const rules::Clock& clock, Post post)
    : config_(config), watch_(watch), store_(store), clock_(clock), post_(std::move(post)) {}

BrokerSide::~BrokerSide() = default;

void BrokerSide::Begin(const LastKnown& known) {
  for (const auto& [channel, at] : known.newest) kept_until_ = std::max(kept_until_.value_or(at), at);
  sensors::Publisher::Settings out;
  out.broker = BrokerOf(config_);
  out.client_id = config_.broker_client + "-out";
  out.alive_topic = config_.broker_prefix + "/alive";
  publisher_ = std::make_unique<sensors::Publisher>(std::move(out));
  publisher_->Start();

  sensors::Subscriber::Settings in;
  in.broker = BrokerOf(config_);
  in.client_id = config_.broker_client;
  in.discovery = config_.broker_discover;
  in.own_prefix = config_.broker_prefix;
  subscriber_ = std::make_unique<sensors::Subscriber>(std::move(in), clock_, store_, *this,
                                                      sensors::Known{known.newest, known.fingerprints}, Routes());
  LookAtClock();
  subscriber_->Start();
  PublishState();
}

void BrokerSide::StopReadings() {
  if (subscriber_) subscriber_->Stop();
}

void BrokerSide::StopPublishing() {
  if (publisher_) publisher_->Stop();
}

std::optional<rules::Instant> BrokerSide::InvalidAt(const std::string& topic) const {
  const auto found = invalid_at_.find(topic);
  return found == invalid_at_.end() ? std::nullopt : std::optional(found->second);
}

// ---- the MQTT library's threads: only hand over ----

void BrokerSide::OnReadings(const std::vector<rules::Reading>&) noexcept {
  // The store tells the watch of them, in the order in which a replay will see them.
}

void BrokerSide::OnInvalid(std::string_view topic, std::string_view first_bytes, std::string_view why) noexcept {
  post_([this, topic = std::string(topic), bytes = std::string(first_bytes), why = std::string(why)] {
    const auto line = invalid_.Count(topic, bytes, why, clock_.Monotonic());
    if (invalid_at_.size() < sensors::InvalidLog::kMostTopics) invalid_at_[topic] = clock_.Wall();
    if (line) spdlog::warn("{}", *line);
  });
}

void BrokerSide::OnArriving(std::string_view topic, std::string_view first_bytes, rules::Instant at) noexcept {
  arrivals_.Note(topic, first_bytes, at);
}

void BrokerSide::OnConnection(bool up, std::string_view why) noexcept {
  post_([this, up, why = std::string(why)] {
    connected_ = up;
    if (up) {
      away_.reset();
      spdlog::info("Connected to the broker at {}:{}.", config_.broker_host, config_.broker_port);
    } else {
      away_ = Away{clock_.Wall(), why};
      spdlog::warn("{}", why);
    }
  });
}

// ---- the loop ----

void BrokerSide::OnLine(const JournalLine&, const std::vector<Fact>& facts) {
  const bool routes = std::ranges::any_of(
      facts, [](const Fact& fact) { return fact.subject_kind == "probe" || fact.subject_kind == "act"; });
  if (routes && subscriber_) subscriber_->SetRoutes(Routes());
  PublishSoon();
}

void BrokerSide::OnDecisions(const std::vector<rules::Decision>&) { PublishSoon(); }

void BrokerSide::OnJudged() {
  LookAtClock();
  PublishSoon();
}

std::vector<sensors::Route> BrokerSide::Routes() const {
  std::vector<sensors::Route> routes;
  for (const ProbeRow* probe : watch_.TheBook().Probes()) {
    // A probe that was taken down goes on being listened to by nobody.
    if (watch_.TheBook().HangsIn(*probe)) routes.push_back(probe->route);
  }
  return routes;
}

// Many changes, one sending.
void BrokerSide::PublishSoon() {
  if (publish_waits_ || !publisher_) return;
  publish_waits_ = true;
  post_([this] {
    publish_waits_ = false;
    PublishState();
  });
}

void BrokerSide::PublishState() {
  const Book& book = watch_.TheBook();
  for (const CaveRow* cave : book.Caves()) {
    publisher_->SetState(fmt::format("{}/cave/{}", config_.broker_prefix, cave->id),
                         boost::json::serialize(CaveStateJson(book, *cave, watch_.View(cave->id))));
  }
  const bool rings = std::ranges::any_of(watch_.Engine().Alarms(), [](const rules::Alarm& alarm) {
    return alarm.severity >= rules::Severity::kAct && alarm.Untaken();
  });
  publisher_->SetState(config_.broker_prefix + "/bell", rings ? "1" : "0");
}

// A small machine without a clock battery wakes in the past. Until its clock is set, readings are held.
void BrokerSide::LookAtClock() {
  const bool known = !kept_until_ || clock_.Wall() + kClockSlack >= *kept_until_;
  if (known == clock_known_) return;
  clock_known_ = known;
  subscriber_->SetClockKnown(known);
  if (!known)
    spdlog::warn(
        "This machine's clock shows {}, before the last kept reading of {}: readings are held until it is set.",
        ToText(clock_.Wall()), ToText(*kept_until_));
}

}  // namespace rindwatch
