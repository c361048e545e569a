#include "sensors/mqtt/link.hpp"

#include <utility>

#include "sensors/mqtt/link_impl.hpp"
#include "sensors/mqtt/link_words.hpp"

namespace rindwatch::sensors {

Link::Impl::Impl(Link& link, Settings settings, LinkUser& user)
    : link_(link),
      settings_(std::move(settings)),
      user_(user),
      client_("tcp://" + AddressOf(settings_.broker), settings_.client_id) {
  client_.set_message_callback([this](const mqtt::const_message_ptr& message) { Arrived(*message); });
  client_.set_connection_lost_handler([this](const std::string&) { Lost(); });
}

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

#if defined(__SANITIZE_THREAD__)
// The MQTT library is built without the sanitizer, which therefore sees none of its locks.
extern "C" const char* __tsan_default_suppressions() { return "race:libpaho-mqtt\n"; }
#endif
