// What the MQTT library's thread does with a link: connected, a message, lost. It hands over and, where a message must
// not be acknowledged, cuts the connection.
#include <algorithm>

#include "sensors/mqtt/link_impl.hpp"

namespace rindwatch::sensors {

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

}  // namespace rindwatch::sensors
