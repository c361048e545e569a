// The link's thread connects, serves and waits; it talks to its user and to the library and never touches a reading.
// The library's thread enters by three callbacks: connected, message, lost.
#include "sensors/mqtt/link.hpp"

#include <mqtt/async_client.h>

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <vector>

#include "sensors/mqtt/sockets.hpp"

namespace rindwatch::sensors {
namespace {

using std::chrono::milliseconds;
using Clock = std::chrono::steady_clock;

constexpr milliseconds kFarewell{2'000};
constexpr milliseconds kSlice{50};    // how often a wait for the broker looks whether there is still reason to wait
constexpr int kFilterRefused = 0x80;  // MQTT 3.1.1, section 3.9.3

// Not a fault: we were told to stop while waiting for the broker.
class Leaving : public LinkError {
 public:
  Leaving() : LinkError("The connection is being left.") {}
};

// Whoever makes the library open a socket does so alone: the sockets that are new afterwards are its own.
std::timed_mutex& ConnectMutex() {
  static std::timed_mutex mutex;
  return mutex;
}

std::string AddressOf(const Broker& broker) {
  const bool six = broker.host.find(':') != std::string::npos;
  return (six ? "[" + broker.host + "]" : broker.host) + ":" + std::to_string(broker.port);
}

// The broker's answer to a connection, MQTT 3.1.1, section 3.2.2.3; anything else is the library's own failure.
std::string ConnectFault(int code, const Link::Settings& settings) {
  const std::string at = "the broker at " + AddressOf(settings.broker);
  switch (code) {
    case 1:
      return "T" + at.substr(1) + " does not speak MQTT 3.1.1; use a broker that does.";
    case 2:
      return "T" + at.substr(1) + " refuses the client id \"" + settings.client_id + "\"; choose another one.";
    case 3:
      return "T" + at.substr(1) + " says that it is not available; it is tried again.";
    case 4:
      return "T" + at.substr(1) + " refuses the user name or the password; correct them in the configuration.";
    case 5:
      return "T" + at.substr(1) + " does not let us in; give it a user name and password that it knows.";
    default:
      return "No broker answers at " + AddressOf(settings.broker) +
             "; start it or correct its address. It is tried again until it answers.";
  }
}

std::string LossSentence(const Link::Settings& settings) {
  return "The connection to the broker at " + AddressOf(settings.broker) +
         " was lost and is tried again. If this repeats, another program may use the client id \"" +
         settings.client_id + "\".";
}

std::string RefusalSentence(milliseconds pause) {
  return "The store refused a message, so the broker was left without an acknowledgement and keeps it; tried again "
         "in " +
         std::to_string(std::chrono::duration_cast<std::chrono::seconds>(pause).count()) + " s.";
}

}  // namespace

class Link::Impl : private mqtt::iaction_listener {
 public:
  Impl(Link& link, Settings settings, LinkUser& user)
      : link_(link), settings_(std::move(settings)), user_(user), client_(UriOf(settings_), settings_.client_id) {
    client_.set_message_callback([this](const mqtt::const_message_ptr& message) { Arrived(*message); });
    client_.set_connection_lost_handler([this](const std::string&) { Lost(); });
  }
  ~Impl() override { Stop(); }

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
  enum class State : std::uint8_t { kIdle, kConnecting, kServing, kLost, kRefused };

  static std::string UriOf(const Settings& settings) { return "tcp://" + AddressOf(settings.broker); }
  mqtt::connect_options ConnectOptions() const;

  // The link's thread.
  void Run();
  void RunOnce();
  void Connect();
  void Serve();
  void Farewell();
  void Leave();
  void TellDown(const std::string& why);
  milliseconds Pause();
  int AwaitCode(mqtt::token& token);
  void Await(mqtt::token& token);
  bool IsStopping() const;
  // Throws if there is no reason left to wait.
  void CheckWaiting(Clock::time_point deadline);

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
  milliseconds retry_{0};
  std::optional<Clock::time_point> up_since_;
  std::optional<Clock::time_point> farewell_;  // set: the time by which the last requests must be done

  mqtt::async_client client_;
  std::thread thread_;
};

// ---- the link's thread ----

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
  std::unique_lock alone(ConnectMutex(), std::defer_lock);
  while (!alone.try_lock_for(kSlice)) CheckWaiting(Clock::time_point::max());
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
  if (code != 0) throw LinkError(ConnectFault(code, settings_));
  if (state_ == State::kConnecting) throw LinkError(ConnectFault(-1, settings_));
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
      if (state_ != State::kServing) throw LinkError(LossSentence(settings_));
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

int Link::Impl::AwaitCode(mqtt::token& token) {
  const auto deadline = farewell_.value_or(Clock::now() + settings_.patience.answer);
  while (!token.wait_for(kSlice)) CheckWaiting(deadline);
  return token.get_return_code();
}

void Link::Impl::Await(mqtt::token& token) {
  if (AwaitCode(token) != 0) throw LinkError(LossSentence(settings_));
}

void Link::Impl::CheckWaiting(Clock::time_point deadline) {
  const std::scoped_lock lock(mutex_);
  if (state_ == State::kRefused) throw LinkError(RefusalSentence(settings_.patience.after_refusal));
  if (state_ == State::kLost) throw LinkError(LossSentence(settings_));
  if (stopping_ && !farewell_) throw Leaving();
  if (Clock::now() >= deadline) {
    throw LinkError("The broker at " + AddressOf(settings_.broker) +
                    " does not answer a request; the connection is made anew.");
  }
}

Link::Answer Link::Impl::Subscribe(const std::string& filter, int qos) {
  const auto token = client_.subscribe(filter, qos);
  int code = 0;
  try {
    code = AwaitCode(*token);
  } catch (const mqtt::exception& error) {
    code = error.get_return_code();
  }
  if (code == kFilterRefused) return Answer::kRefused;
  if (code != 0) throw LinkError(LossSentence(settings_));
  const auto codes = token->get_subscribe_response().get_reason_codes();
  const bool refused = !codes.empty() && static_cast<int>(codes.front()) >= kFilterRefused;
  return refused ? Answer::kRefused : Answer::kGranted;
}

void Link::Impl::Publish(const std::string& topic, const std::string& payload, bool retained) {
  Await(*client_.publish(topic, payload.data(), payload.size(), 1, retained));
}

void Link::Impl::PublishUnseen(const std::string& topic, const std::string& payload) {
  client_.publish(topic, payload.data(), payload.size(), 1, false);
}

// ---- the library's thread ----

void Link::Impl::on_success(const mqtt::token& token) {
  try {
    FindOwnSockets();
    user_.OnSession(token.get_connect_response().is_session_present());
  } catch (...) {
    // Then nothing is known of the session, and the user goes by that.
  }
  const std::scoped_lock lock(mutex_);
  if (state_ == State::kConnecting) state_ = State::kServing;
}

void Link::Impl::FindOwnSockets() {
  const auto open = SocketsTo(settings_.broker.port);
  const std::scoped_lock lock(mutex_);
  for (const auto& socket : open) {
    const bool is_new = std::find(sockets_before_.begin(), sockets_before_.end(), socket) == sockets_before_.end();
    if (is_new) sockets_.push_back(socket);
  }
}

// The acknowledgement leaves when this returns. Nothing may be thrown: it would end the program, and the message that
// caused it would come again and again.
void Link::Impl::Arrived(const mqtt::message& message) noexcept {
  if (!Handled(message)) Cut();
}

bool Link::Impl::Handled(const mqtt::message& message) noexcept {
  {
    const std::scoped_lock lock(mutex_);
    if (stopping_ || state_ == State::kRefused) return false;
  }
  try {
    const auto& topic = message.get_topic();
    const auto& payload = message.get_payload_str();
    if (user_.OnMessage({topic, payload, message.is_duplicate(), message.is_retained()})) return true;
  } catch (...) {
    // As good as refused: the message stays with the broker.
  }
  const std::scoped_lock lock(mutex_);
  state_ = State::kRefused;
  return false;
}

void Link::Impl::Cut() {
  const std::scoped_lock lock(mutex_);
  const auto own = sockets_.empty() ? SocketsTo(settings_.broker.port) : sockets_;
  for (const auto& socket : own) ShutDown(socket);
  changed_.notify_all();
}

void Link::Impl::Lost() {
  const std::scoped_lock lock(mutex_);
  if (state_ == State::kServing) state_ = State::kLost;
  changed_.notify_all();
}

// ---- any thread ----

void Link::Impl::Stop() {
  {
    const std::scoped_lock lock(mutex_);
    stopping_ = true;
    changed_.notify_all();
  }
  if (thread_.joinable()) thread_.join();
}

void Link::Impl::Wake() {
  const std::scoped_lock lock(mutex_);
  woken_ = true;
  changed_.notify_all();
}

Link::Link(Settings settings, LinkUser& user) : impl_(std::make_unique<Impl>(*this, std::move(settings), user)) {}
Link::~Link() = default;
void Link::Start() { impl_->Start(); }
void Link::Stop() { impl_->Stop(); }
void Link::Wake() { impl_->Wake(); }
bool Link::IsUp() const { return impl_->IsUp(); }
Link::Answer Link::Subscribe(const std::string& filter, int qos) { return impl_->Subscribe(filter, qos); }
void Link::Unsubscribe(const std::string& filter) { impl_->Unsubscribe(filter); }
void Link::Publish(const std::string& topic, const std::string& payload, bool retained) {
  impl_->Publish(topic, payload, retained);
}
void Link::PublishUnseen(const std::string& topic, const std::string& payload) { impl_->PublishUnseen(topic, payload); }

}  // namespace rindwatch::sensors
