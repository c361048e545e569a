// One connection to the broker, kept up by a thread of its own: connect, serve, and after a loss wait and connect
// again. The only place that knows the MQTT library. MQTT 3.1.1 is pinned: an older protocol would lose the session
// silently, and with MQTT 5 a session ends with the connection unless told otherwise.
//
// The library holds one lock for all its clients of a process while a message's callback runs, so every request here
// may wait as long as a Keep does. That is why requests are made in the link's own thread and nowhere else.
#pragma once

#include <chrono>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

#include "sensors/mqtt/broker.hpp"

namespace rindwatch::sensors {

struct LinkMessage {
  std::string_view topic;
  std::string_view payload;
  bool duplicate = false;
  bool retained = false;
};

// The connection cannot be used (any more): one sentence for the keeper.
class LinkError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class Link;

// What is done with a connection. Must outlive the link.
class LinkUser {
 public:
  virtual ~LinkUser() = default;
  // The link's thread, before each attempt to connect.
  virtual void OnConnecting() {}
  // The library's thread, before any message of the connection: whether the broker had kept the session.
  virtual void OnSession(bool present) { static_cast<void>(present); }
  // The library's thread. True: done with, it is acknowledged now. False: it must not be acknowledged; the connection
  // is cut before that can happen, and tried again after Patience::after_refusal.
  virtual bool OnMessage(const LinkMessage& message) = 0;
  // The link's thread: the connection is up. May make requests; what it throws gives the connection up.
  virtual void OnUp(Link& link) = 0;
  // The link's thread, after Wake, while the connection is up. As OnUp.
  virtual void OnWake(Link& link) = 0;
  // The link's thread, before the connection is left for good. As OnUp, but within two seconds altogether.
  virtual void OnFarewell(Link& link) { static_cast<void>(link); }
  // The link's thread: up, or down and why. Down is told once for each reason.
  virtual void OnState(bool up, std::string_view why) = 0;
};

class Link {
 public:
  struct Settings {
    Broker broker;
    Patience patience;
    std::string client_id;
    bool clean_session = true;
    std::string will_topic;  // empty: no last will; retained, QoS 1
    std::string will_payload;
  };

  Link(Settings settings, LinkUser& user);
  // Stops.
  ~Link();
  Link(const Link&) = delete;
  Link& operator=(const Link&) = delete;

  void Start();
  // Joins the thread; waits for a callback that is running. Harmless when called twice.
  void Stop();

  // Any thread.
  void Wake();
  bool IsUp() const;

  // Requests: the link's thread only, out of OnUp, OnWake and OnFarewell. Throw LinkError.
  enum class Answer : std::uint8_t { kGranted, kRefused };
  Answer Subscribe(const std::string& filter, int qos);
  void Unsubscribe(const std::string& filter);
  // Returns when the broker has it.
  void Publish(const std::string& topic, const std::string& payload, bool retained);
  // Returns at once, QoS 1.
  void PublishUnseen(const std::string& topic, const std::string& payload);

 private:
  class Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace rindwatch::sensors
