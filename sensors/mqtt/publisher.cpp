// One link. Whoever publishes only writes down what is to be sent; the link's thread sends it.
#include "sensors/mqtt/publisher.hpp"

#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <optional>
#include <set>
#include <stdexcept>
#include <utility>

#include "sensors/mqtt/link.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch::sensors {
namespace {

void RequireTopic(const std::string& topic) {
  if (auto fault = TopicFault(topic)) throw std::invalid_argument(*fault);
}

Publisher::Settings Checked(Publisher::Settings settings) {
  if (!settings.alive_topic.empty()) RequireTopic(settings.alive_topic);
  return settings;
}

Link::Settings LinkSettings(const Publisher::Settings& settings) {
  return {.broker = settings.broker,
          .patience = settings.patience,
          .client_id = settings.client_id,
          .clean_session = true,
          .will_topic = settings.alive_topic,
          .will_payload = "0"};
}

}  // namespace

class Publisher::Impl : private LinkUser {
 public:
  explicit Impl(Settings settings) : settings_(Checked(std::move(settings))), link_(LinkSettings(settings_), *this) {}

  void Start() { link_.Start(); }
  void Stop() { link_.Stop(); }
  void SetState(std::string topic, std::string payload);
  void Send(std::string topic, std::string payload);
  bool IsConnected() const { return link_.IsUp(); }
  std::size_t Dropped() const;
  bool Flush(std::chrono::milliseconds most);

 private:
  struct Outgoing {
    std::string topic;
    std::string payload;
    bool retained = false;
  };

  bool OnMessage(const LinkMessage&) override { return true; }  // nothing is subscribed to
  void OnUp(Link& link) override;
  void OnWake(Link& link) override { SendAll(link); }
  void OnFarewell(Link& link) override;
  void OnState(bool up, std::string_view why) override;

  void SendAll(Link& link);
  std::optional<Outgoing> Next();
  void OnSent(const Outgoing& sent);

  const Settings settings_;

  mutable std::mutex mutex_;
  std::condition_variable sent_;
  // Guarded by mutex_.
  std::map<std::string, std::string> state_;  // empty payload: to be taken away, then forgotten
  std::set<std::string> dirty_;               // topics whose state the broker does not have yet
  std::deque<Outgoing> queue_;
  std::optional<Outgoing> sending_;  // taken from the queue and not yet with the broker
  std::size_t dropped_ = 0;

  Link link_;  // last: its thread uses all of the above
};

void Publisher::Impl::SetState(std::string topic, std::string payload) {
  RequireTopic(topic);
  {
    const std::scoped_lock lock(mutex_);
    const auto [entry, is_new] = state_.try_emplace(topic, payload);
    if (!is_new && entry->second == payload) return;
    entry->second = std::move(payload);
    dirty_.insert(std::move(topic));
  }
  link_.Wake();
}

void Publisher::Impl::Send(std::string topic, std::string payload) {
  RequireTopic(topic);
  {
    const std::scoped_lock lock(mutex_);
    if (queue_.size() >= settings_.queue_bound) {
      queue_.pop_front();
      ++dropped_;
    }
    queue_.push_back({std::move(topic), std::move(payload), false});
  }
  link_.Wake();
}

std::size_t Publisher::Impl::Dropped() const {
  const std::scoped_lock lock(mutex_);
  return dropped_;
}

bool Publisher::Impl::Flush(std::chrono::milliseconds most) {
  std::unique_lock lock(mutex_);
  return sent_.wait_for(lock, most, [this] { return dirty_.empty() && queue_.empty() && !sending_; });
}

// ---- the link's thread ----

void Publisher::Impl::OnUp(Link& link) {
  if (!settings_.alive_topic.empty()) link.Publish(settings_.alive_topic, "1", true);
  {
    const std::scoped_lock lock(mutex_);
    for (const auto& [topic, payload] : state_) dirty_.insert(topic);
  }
  link.Wake();
}

void Publisher::Impl::OnFarewell(Link& link) {
  SendAll(link);
  if (!settings_.alive_topic.empty()) link.Publish(settings_.alive_topic, "0", true);
}

void Publisher::Impl::OnState(bool up, std::string_view why) {
  if (settings_.on_connection) settings_.on_connection(up, why);
}

void Publisher::Impl::SendAll(Link& link) {
  while (const auto next = Next()) {
    link.Publish(next->topic, next->payload, next->retained);
    OnSent(*next);
  }
}

// What is sent next is remembered until it is with the broker: a lost connection loses none of it.
std::optional<Publisher::Impl::Outgoing> Publisher::Impl::Next() {
  const std::scoped_lock lock(mutex_);
  if (!dirty_.empty()) {
    const auto& topic = *dirty_.begin();
    return Outgoing{topic, state_.at(topic), true};
  }
  if (!sending_ && !queue_.empty()) {
    sending_ = std::move(queue_.front());
    queue_.pop_front();
  }
  return sending_;
}

void Publisher::Impl::OnSent(const Outgoing& sent) {
  const std::scoped_lock lock(mutex_);
  if (sent.retained) {
    const auto state = state_.find(sent.topic);
    // Perhaps it changed meanwhile; then it stays dirty.
    if (state != state_.end() && state->second == sent.payload) {
      dirty_.erase(sent.topic);
      if (sent.payload.empty()) state_.erase(state);
    }
  } else {
    sending_.reset();
  }
  sent_.notify_all();
}

Publisher::Publisher(Settings settings) : impl_(std::make_unique<Impl>(std::move(settings))) {}
Publisher::~Publisher() = default;
void Publisher::Start() { impl_->Start(); }
void Publisher::Stop() { impl_->Stop(); }
void Publisher::SetState(std::string topic, std::string payload) {
  impl_->SetState(std::move(topic), std::move(payload));
}
void Publisher::ClearState(std::string topic) { impl_->SetState(std::move(topic), ""); }
void Publisher::Send(std::string topic, std::string payload) { impl_->Send(std::move(topic), std::move(payload)); }
bool Publisher::IsConnected() const { return impl_->IsConnected(); }
std::size_t Publisher::Dropped() const { return impl_->Dropped(); }
bool Publisher::Flush(std::chrono::milliseconds most) { return impl_->Flush(most); }

}  // namespace rindwatch::sensors
