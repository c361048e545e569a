// The inside of a subscriber, for its own sources only: subscriber.cpp (any thread), subscriber_messages.cpp (the MQTT
// library's thread), subscriber_session.cpp (both links' threads).
#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "sensors/mqtt/arrivals.hpp"
#include "sensors/mqtt/backlog_gate.hpp"
#include "sensors/mqtt/link.hpp"
#include "sensors/mqtt/subscriber.hpp"

namespace rindwatch::sensors {

class Subscriber::Impl {
 public:
  Impl(Settings settings, const rules::Clock& clock, ReadingSink& sink, MqttListener& listener, const Known& known,
       std::vector<Route> routes);

  void Start();
  void Stop();
  void SetRoutes(std::vector<Route> routes);
  void SetClockKnown(bool known) { clock_known_ = known; }
  bool IsConnected() const { return link_.IsUp(); }

 private:
  // The durable session.
  class Reader : public LinkUser {
   public:
    explicit Reader(Impl& impl) : impl_(impl) {}
    void OnConnecting() override;
    void OnSession(bool present) override;
    bool OnMessage(const LinkMessage& message) override { return impl_.OnReading(message); }
    void OnUp(Link& link) override;
    void OnWake(Link& link) override { Synchronise(link, false); }
    void OnState(bool up, std::string_view why) override { impl_.listener_.OnConnection(up, why); }

   private:
    void Synchronise(Link& link, bool again);
    void Subscribe(Link& link, const std::string& filter);

    Impl& impl_;
    std::set<std::string> subscribed_;
    std::set<std::string> told_refused_;
  };

  // The fleeting one. Its ups and downs are not told: they are the same broker's.
  class Looker : public LinkUser {
   public:
    explicit Looker(Impl& impl) : impl_(impl) {}
    bool OnMessage(const LinkMessage& message) override;
    void OnUp(Link& link) override;
    void OnWake(Link&) override {}
    void OnState(bool, std::string_view) override {}

   private:
    Impl& impl_;
  };

  bool OnReading(const LinkMessage& message);
  bool Keep(const Message& message);
  void ShowArriving(std::string_view topic, std::string_view payload);
  void TellInvalid(const Message& message, const std::vector<std::string>& faults);
  std::shared_ptr<const RouteTable> Routes() const;
  bool IsOwn(std::string_view topic) const;

  const Settings settings_;
  const std::string marker_topic_;
  const rules::Clock& clock_;
  ReadingSink& sink_;
  MqttListener& listener_;
  std::atomic<bool> clock_known_ = true;

  Intake intake_;  // the library's thread alone

  mutable std::mutex mutex_;
  // Guarded by mutex_.
  std::shared_ptr<const RouteTable> routes_;
  BacklogGate gate_;
  Arrivals arrivals_;
  std::string marker_;
  bool session_present_ = false;

  Reader reader_;
  Looker looker_;
  Link link_;
  std::optional<Link> look_link_;
};

}  // namespace rindwatch::sensors
