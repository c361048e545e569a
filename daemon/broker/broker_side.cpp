#include "daemon/broker/broker_side.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>
#include <boost/json.hpp>

#include <algorithm>

#include "daemon/api/gas_json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/clock/clocks.hpp"

namespace rindwatch {

namespace {

// What a keeper can look through.
constexpr std::size_t kMostTroubles = 20;

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
  for (const ProbeRow* probe : watch_.TheBook().Probes()) {
    if (!watch_.TheBook().HangsIn(*probe)) in.former_filters.push_back(probe->route.filter);
  }
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
  // The store tells the watch of them, in the order in which a replay will see them. It has posted that already.
  if (heard_) post_(heard_);
}

void BrokerSide::OnInvalid(std::string_view topic, std::string_view first_bytes, std::string_view why) noexcept {
  post_([this, topic = std::string(topic), bytes = std::string(first_bytes), why = std::string(why)] {
    const auto line = invalid_.Count(topic, bytes, why, clock_.Monotonic());
    if (invalid_at_.contains(topic) || invalid_at_.size() < sensors::InvalidLog::kMostTopics)
      invalid_at_[topic] = clock_.Wall();
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
      troubles_.clear();
      spdlog::info("Connected to the broker at {}:{}.", config_.broker_host, config_.broker_port);
    } else {
      // A vain attempt says why anew, and is away since the same moment.
      away_ = Away{away_ ? away_->since : clock_.Wall(), why};
      // A house without probes that asked for no broker misses none.
      if (config_.broker_given || !watch_.TheBook().Probes().empty()) spdlog::warn("{}", why);
    }
  });
}

void BrokerSide::OnTrouble(std::string_view what) noexcept {
  post_([this, what = std::string(what)] {
    if (std::ranges::find(troubles_, what, &Away::why) != troubles_.end()) return;
    if (troubles_.size() < kMostTroubles) troubles_.push_back({clock_.Wall(), what});
    spdlog::warn("{}", what);
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
  std::set<std::string> told;
  for (const CaveRow* cave : book.Caves()) {
    const std::string topic = fmt::format("{}/cave/{}", config_.broker_prefix, cave->id);
    boost::json::object state = CaveStateJson(watch_, *cave, watch_.View(cave->id));
    DropFuture(state, clock_.Wall());
    PutGasFirst(state, watch_, *cave);
    publisher_->SetState(topic, boost::json::serialize(state));
    told.insert(topic);
  }
  // A cave that is no more must not stay at the broker as it was last.
  for (const std::string& topic : told_) {
    if (!told.contains(topic)) publisher_->ClearState(topic);
  }
  told_ = std::move(told);
  const bool rings = std::ranges::any_of(watch_.Engine().Alarms(), [](const rules::Alarm& alarm) {
    return alarm.severity >= rules::Severity::kAct && alarm.Untaken();
  });
  publisher_->SetState(config_.broker_prefix + "/bell", rings ? "1" : "0");
}

void BrokerSide::Retain(const std::string& below, std::string payload) {
  if (publisher_) publisher_->SetState(config_.broker_prefix + "/" + below, std::move(payload));
}

// A small machine without a clock battery wakes in the past. Until its clock is set, readings are held.
void BrokerSide::LookAtClock() {
  if (!subscriber_) return;
  const rules::Instant kept_until = KeptUntil();
  const bool known = clock_.Wall() + kClockSlack >= kept_until;
  was_known_ = was_known_ || known;
  if (known || !was_known_) {
    back_since_.reset();
  } else {
    back_since_ = std::min(back_since_.value_or(clock_.Wall()), clock_.Wall());
  }
  if (known == clock_known_) return;
  clock_known_ = known;
  subscriber_->SetClockKnown(known);
  if (!known)
    spdlog::warn(
        "This machine's clock shows {}, before the last kept reading of {}: readings are held until it is set.",
        ToText(clock_.Wall()), ToText(kept_until));
}

bool BrokerSide::WasAhead() const {
  const rules::Instant now = clock_.Wall();
  if (clock_known_ || KeptUntil() - now < kSoonMadeUp) return false;
  return IsSetByNetwork() || (back_since_ && now - *back_since_ >= kStaysBack);
}

}  // namespace rindwatch
