// The inside of a link, for its own sources only: link.cpp (any thread), link_life.cpp and link_requests.cpp (the
// link's thread), link_arrival.cpp (the library's thread).
#pragma once

#include <mqtt/async_client.h>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "sensors/mqtt/link.hpp"
#include "sensors/mqtt/sockets.hpp"

namespace rindwatch::sensors {

// How often a wait for the broker looks whether there is still reason to wait.
constexpr std::chrono::milliseconds kWaitSlice{50};

// Not a fault: we were told to stop while waiting for the broker.
class Leaving : public LinkError {
 public:
  Leaving() : LinkError("The connection is being left.") {}
};

class Link::Impl : private mqtt::iaction_listener {
 public:
  Impl(Link& link, Settings settings, LinkUser& user);
  ~Impl() override { Stop(); }
  Impl(const Impl&) = delete;
  Impl& operator=(const Impl&) = delete;

  void Start() {
    thread_ = std::thread([this] { Run(); });
  }
  void Stop();
  void Wake();
  bool IsUp() const { return up_; }

  Answer Subscribe(const std::string& filter, int qos);
  void Unsubscribe(const std::string& filter) { Await(*client_.unsubscribe(filter)); }
  void Publish(const std::string& topic, const std::string& payload, bool retained);
  void PublishUnseen(const std::string& topic, const std::string& payload);

 private:
  enum class State : std::uint8_t {
    kIdle,        // until the next attempt
    kConnecting,  // until the broker answers
    kServing,     // until the connection breaks or is left
    kLost,        // it broke; the link's thread leaves it
    kRefused,     // a message must not be acknowledged and the connection was cut; the link's thread leaves it
  };

  mqtt::connect_options ConnectOptions() const;

  // The link's thread.
  void Run();
  void RunOnce();
  void Connect();
  void Serve();
  void Farewell();
  void Leave();
  void TellDown(const std::string& why);
  std::chrono::milliseconds Pause();
  int AwaitCode(mqtt::token& token);
  void Await(mqtt::token& token);
  bool IsStopping() const;
  // Throws if there is no reason left to wait.
  void CheckWaiting(std::chrono::steady_clock::time_point deadline);

  // The library's thread.
  void on_success(const mqtt::token& token) override;
  void on_failure(const mqtt::token&) override {}  // the thread that waits for the token sees it
  void FindOwnSockets();
  void Arrived(const mqtt::message& message) noexcept;
  bool Handled(const mqtt::message& message) noexcept;
  void Cut();
  void Lost();

  Link& link_;
  const Settings settings_;
  LinkUser& user_;
  std::atomic<bool> up_ = false;

  mutable std::mutex mutex_;
  std::condition_variable changed_;
  // Guarded by mutex_.
  State state_ = State::kIdle;
  bool stopping_ = false;
  bool woken_ = false;
  std::vector<Socket> sockets_before_;
  std::vector<Socket> sockets_;  // of the connection; usually one

  // The link's thread alone.
  std::string told_;  // why the connection is down, as the user knows it
  std::chrono::milliseconds retry_{0};
  std::optional<std::chrono::steady_clock::time_point> up_since_;
  std::optional<std::chrono::steady_clock::time_point>
      farewell_;  // set: the time by which the last requests must be done

  mqtt::async_client client_;
  std::thread thread_;
};

}  // namespace rindwatch::sensors
