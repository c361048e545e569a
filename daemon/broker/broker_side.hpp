// The daemon's side of the broker: readings come in through the store, state goes out. What the MQTT library's threads
// say is posted to the loop.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "daemon/broker/arrivals.hpp"
#include "daemon/config/config.hpp"
#include "daemon/store/store.hpp"
#include "daemon/watch/watch.hpp"
#include "sensors/invalid_log.hpp"
#include "sensors/mqtt/publisher.hpp"
#include "sensors/mqtt/subscriber.hpp"

namespace rindwatch {

class BrokerSide : public sensors::MqttListener, public WatchListener {
 public:
  using Post = Store::Post;

  BrokerSide(const Config& config, Watch& watch, Store& store, const rules::Clock& clock, Post post);
  ~BrokerSide() override;
  BrokerSide(const BrokerSide&) = delete;
  BrokerSide& operator=(const BrokerSide&) = delete;

  // Called in the loop when the readings of a message were kept and judged. Before Begin.
  void OnHeard(std::function<void()> heard) { heard_ = std::move(heard); }
  // Connects, in the background. Call when the watch has begun.
  void Begin(const LastKnown& known);
  // Stops taking in; what is being kept is waited for.
  void StopReadings();
  // Says that we go and leaves.
  void StopPublishing();

  // ---- the loop's thread ----
  // Keeps a state at the broker, below our prefix. Nothing before Begin.
  void Retain(const std::string& below, std::string payload);
  bool IsConnected() const { return connected_; }
  // Why and since when the broker is away; none while it is there.
  struct Away {
    rules::Instant since;
    std::string why;
  };
  const std::optional<Away>& WhyAway() const { return away_; }
  // What is wrong although the broker is there, such as a topic that it refuses.
  const std::vector<Away>& Troubles() const { return troubles_; }
  const Arrivals& Arriving() const { return arrivals_; }
  const sensors::InvalidLog& Invalid() const { return invalid_; }
  std::optional<rules::Instant> InvalidAt(const std::string& topic) const;
  // Finds out anew whether the clock can be right. Cheap: call it now and again.
  void LookAtClock();
  // False while the machine's clock shows less than what was kept last.
  bool IsClockKnown() const { return clock_known_; }
  // True when it shows less although it is right: it went back while we ran, and stays back, or the network set it.
  // What was kept in the meantime bears times that never were. Never for so little that it is soon made up for.
  bool WasAhead() const;
  // What it showed when it went back in this life, while that is not believed yet; none: it is known, or was wrong from
  // the start.
  std::optional<rules::Instant> WentBackAt() const { return clock_known_ ? std::nullopt : back_since_; }
  // Until when that was kept.
  rules::Instant KeptUntil() const {
    return std::max(kept_until_.value_or(watch_.JudgedUntil()), watch_.JudgedUntil());
  }

 private:
  // MqttListener: the MQTT library's threads.
  void OnReadings(const std::vector<rules::Reading>& readings) noexcept override;
  void OnInvalid(std::string_view topic, std::string_view first_bytes, std::string_view why) noexcept override;
  void OnArriving(std::string_view topic, std::string_view first_bytes, rules::Instant at) noexcept override;
  void OnConnection(bool up, std::string_view why) noexcept override;
  void OnTrouble(std::string_view what) noexcept override;
  // WatchListener: the loop.
  void OnJudged() override;
  void OnLine(const JournalLine& line, const std::vector<Fact>& facts) override;
  void OnDecisions(const std::vector<rules::Decision>& decisions) override;

  std::vector<sensors::Route> Routes() const;
  void PublishState();
  void PublishSoon();

  const Config& config_;
  Watch& watch_;
  Store& store_;
  const rules::Clock& clock_;
  Post post_;
  std::function<void()> heard_;
  Arrivals arrivals_;
  sensors::InvalidLog invalid_;
  std::map<std::string, rules::Instant> invalid_at_;
  bool connected_ = false;
  std::optional<Away> away_;
  std::vector<Away> troubles_;
  std::set<std::string> told_;  // the topics of caves whose state the broker holds
  bool clock_known_ = true;
  bool was_known_ = false;                    // in this life
  std::optional<rules::Instant> back_since_;  // what it showed when it had gone back
  std::optional<rules::Instant> kept_until_;  // the newest instant of an earlier life
  bool publish_waits_ = false;
  std::unique_ptr<sensors::Publisher> publisher_;
  std::unique_ptr<sensors::Subscriber> subscriber_;
};

}  // namespace rindwatch
