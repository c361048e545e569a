// What is asked of the broker, and the wait for its answers. The link's thread.
#include "sensors/mqtt/link_impl.hpp"
#include "sensors/mqtt/link_words.hpp"

namespace rindwatch::sensors {
namespace {

constexpr int kFilterRefused = 0x80;  // MQTT 3.1.1, section 3.9.3

}  // namespace

int Link::Impl::AwaitCode(mqtt::token& token) {
  const auto deadline = farewell_.value_or(std::chrono::steady_clock::now() + settings_.patience.answer);
  while (!token.wait_for(kWaitSlice)) CheckWaiting(deadline);
  return token.get_return_code();
}

void Link::Impl::Await(mqtt::token& token) {
  if (AwaitCode(token) != 0) throw LinkError(LossSentence(settings_.broker, settings_.client_id));
}

void Link::Impl::CheckWaiting(std::chrono::steady_clock::time_point deadline) {
  const std::scoped_lock lock(mutex_);
  if (state_ == State::kRefused) throw LinkError(RefusalSentence(settings_.patience.after_refusal));
  if (state_ == State::kLost) throw LinkError(LossSentence(settings_.broker, settings_.client_id));
  if (stopping_ && !farewell_) throw Leaving();
  if (std::chrono::steady_clock::now() >= deadline) {
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
  if (code != 0) throw LinkError(LossSentence(settings_.broker, settings_.client_id));
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

}  // namespace rindwatch::sensors
