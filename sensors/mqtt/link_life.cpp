// The link's thread: it connects, serves and waits. It talks to its user and to the library, and never touches a
// reading.
#include <algorithm>
#include <exception>
#include <utility>

#include "sensors/mqtt/connect_turn.hpp"
#include "sensors/mqtt/link_impl.hpp"
#include "sensors/mqtt/link_words.hpp"

namespace rindwatch::sensors {
namespace {

using std::chrono::milliseconds;
using Clock = std::chrono::steady_clock;

constexpr milliseconds kFarewell{2'000};

}  // namespace

void Link::Impl::Run() {
  retry_ = settings_.patience.first_retry;
  for (;;) {
    RunOnce();
    Leave();
    const auto pause = Pause();
    std::unique_lock lock(mutex_);
    if (changed_.wait_for(lock, pause, [this] { return stopping_; })) return;
  }
}

void Link::Impl::RunOnce() {
  try {
    Connect();
    try {
      Serve();
    } catch (const Leaving&) {
      // What was not answered yet may still be said in the farewell.
    }
    Farewell();
  } catch (const LinkError& error) {
    TellDown(error.what());
  } catch (const mqtt::exception& error) {
    TellDown("The broker at " + AddressOf(settings_.broker) + " failed a request (" + error.what() +
             "); the connection is made anew.");
  } catch (const std::exception& error) {
    TellDown("The connection to the broker is made anew after an unexpected fault: " + std::string(error.what()));
  }
}

mqtt::connect_options Link::Impl::ConnectOptions() const {
  mqtt::connect_options options;
  options.set_mqtt_version(MQTTVERSION_3_1_1);
  options.set_clean_session(settings_.clean_session);
  options.set_automatic_reconnect(false);
  options.set_keep_alive_interval(settings_.patience.keep_alive);
  options.set_connect_timeout(
      std::max(std::chrono::seconds(1), std::chrono::ceil<std::chrono::seconds>(settings_.patience.connect)));
  if (!settings_.broker.user.empty()) {
    options.set_user_name(settings_.broker.user);
    options.set_password(settings_.broker.password);
  }
  if (!settings_.will_topic.empty()) {
    options.set_will(mqtt::will_options(settings_.will_topic, settings_.will_payload, 1, true));
  }
  return options;
}

void Link::Impl::Connect() {
  user_.OnConnecting();
  ConnectTurn turn;
  while (!turn.TakeWithin(kWaitSlice)) CheckWaiting(Clock::time_point::max());
  {
    const std::scoped_lock lock(mutex_);
    state_ = State::kConnecting;
    sockets_.clear();
    sockets_before_ = SocketsTo(settings_.broker.port);
  }
  int code = -1;
  try {
    code = AwaitCode(*client_.connect(ConnectOptions(), nullptr, *this));
  } catch (const mqtt::exception& error) {
    code = error.get_return_code();
  }
  const std::scoped_lock lock(mutex_);
  if (state_ == State::kRefused) return;  // a message came first; Serve says so
  if (code != 0) throw LinkError(ConnectFault(code, settings_.broker, settings_.client_id));
  if (state_ == State::kConnecting) throw LinkError(ConnectFault(-1, settings_.broker, settings_.client_id));
}

void Link::Impl::Serve() {
  user_.OnUp(link_);
  up_ = true;
  up_since_ = Clock::now();
  told_.clear();
  user_.OnState(true, "");
  for (;;) {
    {
      std::unique_lock lock(mutex_);
      changed_.wait(lock, [this] { return stopping_ || woken_ || state_ != State::kServing; });
      if (state_ == State::kRefused) throw LinkError(RefusalSentence(settings_.patience.after_refusal));
      if (state_ != State::kServing) throw LinkError(LossSentence(settings_.broker, settings_.client_id));
      if (stopping_) return;
      woken_ = false;
    }
    user_.OnWake(link_);
  }
}

void Link::Impl::Farewell() {
  farewell_ = Clock::now() + kFarewell;
  user_.OnFarewell(link_);
}

// Back to nothing, whatever state the library is in.
void Link::Impl::Leave() {
  up_ = false;
  try {
    if (const auto left = client_.disconnect(0)) left->wait_for(kFarewell);
  } catch (const mqtt::exception&) {
    // It was not connected: all the better.
  }
}

void Link::Impl::TellDown(const std::string& why) {
  up_ = false;
  if (std::exchange(told_, why) == why || IsStopping()) return;
  user_.OnState(false, why);
}

bool Link::Impl::IsStopping() const {
  const std::scoped_lock lock(mutex_);
  return stopping_;
}

milliseconds Link::Impl::Pause() {
  const auto& patience = settings_.patience;
  const std::scoped_lock lock(mutex_);
  const bool refused = state_ == State::kRefused;
  state_ = State::kIdle;
  if (refused) return patience.after_refusal;
  // A connection that breaks as soon as it is made deserves the long pauses too.
  const bool was_sound = up_since_ && Clock::now() - *up_since_ >= 10 * patience.first_retry;
  if (was_sound) retry_ = patience.first_retry;
  up_since_.reset();
  return std::exchange(retry_, std::min(2 * retry_, patience.longest_retry));
}

}  // namespace rindwatch::sensors
