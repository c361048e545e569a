// Two links: one holds the durable session, the other looks at foreign topics. Messages come in the MQTT library's
// thread and are decoded and kept there; requests to the broker are made in the links' threads.
#include "sensors/mqtt/subscriber.hpp"

#include <atomic>
#include <chrono>
#include <mutex>
#include <new>
#include <optional>
#include <random>
#include <set>
#include <stdexcept>
#include <utility>

#include "sensors/first_bytes.hpp"
#include "sensors/mqtt/arrivals.hpp"
#include "sensors/mqtt/backlog_gate.hpp"
#include "sensors/mqtt/link.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch::sensors {
namespace {

BacklogGate::Time Now() { return std::chrono::steady_clock::now(); }

// Tells this connection's marker from those that an earlier life left in the queue.
std::string NewMarker() {
  std::random_device random;
  return std::to_string(random()) + "-" + std::to_string(random());
}

std::string MarkerTopicOf(const Subscriber::Settings& settings) {
  return settings.own_prefix + "/marker/" + settings.client_id;
}

Subscriber::Settings Checked(Subscriber::Settings settings) {
  if (settings.client_id.empty()) {
    throw std::invalid_argument("The client id is empty; the broker keeps messages for a name only.");
  }
  if (const auto fault = TopicFault(MarkerTopicOf(settings))) throw std::invalid_argument(*fault);
  const auto fault = settings.discovery.empty() ? std::nullopt : FilterFault(settings.discovery);
  if (fault) throw std::invalid_argument(*fault);
  // These are from the past: nothing is lost by leaving out what no broker would have taken.
  std::erase_if(settings.former_filters, [](const std::string& filter) { return FilterFault(filter).has_value(); });
  return settings;
}

Link::Settings ReadingSettings(const Subscriber::Settings& settings) {
  return {.broker = settings.broker,
          .patience = settings.patience,
          .client_id = settings.client_id,
          .clean_session = false,
          .will_topic = {},
          .will_payload = {}};
}

Link::Settings LookingSettings(const Subscriber::Settings& settings) {
  auto looking = ReadingSettings(settings);
  looking.client_id += "-look";
  looking.clean_session = true;
  return looking;
}

}  // namespace

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

Subscriber::Impl::Impl(Settings settings, const rules::Clock& clock, ReadingSink& sink, MqttListener& listener,
                       const Known& known, std::vector<Route> routes)
    : settings_(Checked(std::move(settings))),
      marker_topic_(MarkerTopicOf(settings_)),
      clock_(clock),
      sink_(sink),
      listener_(listener),
      intake_(known),
      routes_(std::make_shared<RouteTable>(std::move(routes))),
      gate_(settings_.patience.marker),
      reader_(*this),
      looker_(*this),
      link_(ReadingSettings(settings_), reader_) {
  if (!settings_.discovery.empty()) look_link_.emplace(LookingSettings(settings_), looker_);
}

void Subscriber::Impl::Start() {
  link_.Start();
  if (look_link_) look_link_->Start();
}

void Subscriber::Impl::Stop() {
  if (look_link_) look_link_->Stop();
  link_.Stop();
}

void Subscriber::Impl::SetRoutes(std::vector<Route> routes) {
  auto table = std::make_shared<const RouteTable>(std::move(routes));
  {
    const std::scoped_lock lock(mutex_);
    routes_ = std::move(table);
  }
  link_.Wake();
}

std::shared_ptr<const RouteTable> Subscriber::Impl::Routes() const {
  const std::scoped_lock lock(mutex_);
  return routes_;
}

bool Subscriber::Impl::IsOwn(std::string_view topic) const {
  return topic.starts_with(settings_.own_prefix) && topic.substr(settings_.own_prefix.size()).starts_with('/');
}

// ---- messages: the library's thread ----

bool Subscriber::Impl::OnReading(const LinkMessage& message) {
  bool backlog = false;
  {
    const std::scoped_lock lock(mutex_);
    if (message.topic == marker_topic_) {
      if (message.payload == marker_) gate_.OnMarker();
      return true;
    }
    backlog = gate_.IsBacklog(Now());
  }
  const bool kept = Keep({.topic = message.topic,
                          .payload = message.payload,
                          .duplicate = message.duplicate,
                          .retained = message.retained,
                          .backlog = backlog,
                          .at = clock_.Wall(),
                          .clock_known = clock_known_});
  const std::scoped_lock lock(mutex_);
  gate_.OnHandled(Now());
  return kept;
}

bool Subscriber::Impl::Keep(const Message& message) {
  ShowArriving(message.topic, message.payload);
  Intake::Read read;
  try {
    read = intake_.Look(message, *Routes());
  } catch (const std::bad_alloc&) {
    throw;  // not the message's fault: it may come again
  } catch (const std::exception& error) {
    // Acknowledged all the same: a message that cannot be read today would come again for ever.
    TellInvalid(message, {std::string("expected something readable, found what ends in \"") + error.what() + "\""});
    return true;
  }
  TellInvalid(message, read.faults);
  if (read.batch.readings.empty()) return true;
  const auto result = sink_.Keep(read.batch);
  if (!result.kept) return false;
  const auto settled = intake_.Settle(read.batch, result);
  TellInvalid(message, settled.faults);
  if (!settled.fresh.empty()) listener_.OnReadings(settled.fresh);
  return true;
}

void Subscriber::Impl::TellInvalid(const Message& message, const std::vector<std::string>& faults) {
  if (faults.empty()) return;
  std::string why;
  for (const auto& fault : faults) why += (why.empty() ? "" : "; ") + fault;
  listener_.OnInvalid(message.topic, FirstBytes(message.payload), why);
}

void Subscriber::Impl::ShowArriving(std::string_view topic, std::string_view payload) {
  {
    const std::scoped_lock lock(mutex_);
    if (!arrivals_.IsDue(topic, Now())) return;
  }
  listener_.OnArriving(topic, FirstBytes(payload), clock_.Wall());
}

bool Subscriber::Impl::Looker::OnMessage(const LinkMessage& message) {
  const bool shown_by_reader = !impl_.Routes()->For(message.topic).empty();
  if (!shown_by_reader && !impl_.IsOwn(message.topic)) impl_.ShowArriving(message.topic, message.payload);
  return true;
}

// ---- the session ----

void Subscriber::Impl::Reader::OnConnecting() {
  const std::scoped_lock lock(impl_.mutex_);
  impl_.gate_.OnConnecting();
  impl_.marker_ = NewMarker();
}

void Subscriber::Impl::Reader::OnSession(bool present) {
  const std::scoped_lock lock(impl_.mutex_);
  impl_.gate_.OnSession(present, Now());
  impl_.session_present_ = present;
}

void Subscriber::Impl::Reader::OnUp(Link& link) {
  std::string marker;
  bool present = false;
  {
    const std::scoped_lock lock(impl_.mutex_);
    marker = impl_.marker_;
    present = impl_.session_present_;
  }
  if (present) {
    subscribed_.insert(impl_.settings_.former_filters.begin(), impl_.settings_.former_filters.end());
  } else {
    subscribed_.clear();
  }
  Synchronise(link, true);
  // Behind all that waits in the broker's queue, so it ends the backlog when it comes back.
  if (present) link.PublishUnseen(impl_.marker_topic_, marker);
}

// Makes the broker's subscriptions those of the routes. New ones come first, so that between the two nothing is missed.
void Subscriber::Impl::Reader::Synchronise(Link& link, bool again) {
  auto filters = impl_.Routes()->Filters();
  filters.push_back(impl_.marker_topic_);
  std::set<std::string> wanted;
  for (auto& filter : WithoutOverlaps(std::move(filters))) wanted.insert(std::move(filter));
  for (const auto& filter : wanted) {
    if (again || !subscribed_.contains(filter)) Subscribe(link, filter);
  }
  for (const auto& filter : subscribed_) {
    if (!wanted.contains(filter)) link.Unsubscribe(filter);
  }
  subscribed_ = std::move(wanted);
}

void Subscriber::Impl::Reader::Subscribe(Link& link, const std::string& filter) {
  if (link.Subscribe(filter, 1) == Link::Answer::kGranted) return;
  if (!told_refused_.insert(filter).second) return;
  impl_.listener_.OnTrouble("The broker refuses the topic filter \"" + filter +
                            "\"; allow us to read it in the broker's access list.");
}

void Subscriber::Impl::Looker::OnUp(Link& link) {
  if (link.Subscribe(impl_.settings_.discovery, 0) == Link::Answer::kGranted) return;
  impl_.listener_.OnTrouble("The broker refuses the topic filter \"" + impl_.settings_.discovery +
                            "\" that shows which topics are arriving; choose another one.");
}

Subscriber::Subscriber(Settings settings, const rules::Clock& clock, ReadingSink& sink, MqttListener& listener,
                       const Known& known, std::vector<Route> routes)
    : impl_(std::make_unique<Impl>(std::move(settings), clock, sink, listener, known, std::move(routes))) {}
Subscriber::~Subscriber() = default;
void Subscriber::Start() { impl_->Start(); }
void Subscriber::Stop() { impl_->Stop(); }
void Subscriber::SetRoutes(std::vector<Route> routes) { impl_->SetRoutes(std::move(routes)); }
void Subscriber::SetClockKnown(bool known) { impl_->SetClockKnown(known); }
bool Subscriber::IsConnected() const { return impl_->IsConnected(); }

}  // namespace rindwatch::sensors
