// What becomes of a message: decoded, kept, told. The MQTT library's thread; the acknowledgement leaves when it is
// done.
#include <new>

#include "sensors/first_bytes.hpp"
#include "sensors/mqtt/subscriber_impl.hpp"

namespace rindwatch::sensors {
namespace {

BacklogGate::Time Now() { return std::chrono::steady_clock::now(); }

}  // namespace

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
  // What we publish ourselves is no reading, however wide a route is: it would feed itself.
  if (IsOwn(message.topic)) return true;
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

}  // namespace rindwatch::sensors
