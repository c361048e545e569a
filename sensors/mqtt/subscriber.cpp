#include "sensors/mqtt/subscriber.hpp"

#include <optional>
#include <stdexcept>
#include <utility>

#include "sensors/mqtt/subscriber_impl.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch::sensors {
namespace {

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
