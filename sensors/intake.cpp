#include "sensors/intake.hpp"

#include <array>
#include <chrono>
#include <cstdio>
#include <optional>

#include "sensors/decoder.hpp"

namespace rindwatch::sensors {
namespace {

using rules::Instant;
using rules::Mark;
using rules::Reading;
using rules::TimeSource;

constexpr Instant kEarliest = std::chrono::sys_days{std::chrono::year{2020} / 1 / 1};

bool IsBelievable(Instant own, const Message& message) {
  return own >= kEarliest && own - message.at <= Intake::kAhead;
}

// A redelivery was sent before the present connection, so when it was measured nobody knows.
TimeSource SourceWithoutOwnTime(const Message& message) {
  if (message.backlog || message.duplicate) return TimeSource::kBacklog;
  return message.clock_known ? TimeSource::kArrival : TimeSource::kHeld;
}

std::string Shown(const Reading& reading) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.6g", reading.Value());
  return text.data();
}

std::string ConflictFault(const Reading& reading) {
  return "expected one value at " + rules::ToText(reading.measured_at) + ", found another one, " + Shown(reading) +
         ", than was kept before; the first stays; look at the probe's clock";
}

}  // namespace

std::uint64_t FingerprintOf(std::string_view topic, std::string_view payload) {
  constexpr std::uint64_t kBasis = 14'695'981'039'346'656'037U;
  constexpr std::uint64_t kPrime = 1'099'511'628'211U;
  std::uint64_t hash = kBasis;
  const auto mix = [&hash](unsigned char byte) { hash = (hash ^ byte) * kPrime; };
  for (const char c : topic) mix(static_cast<unsigned char>(c));
  mix(0);
  for (const char c : payload) mix(static_cast<unsigned char>(c));
  return hash == 0 ? 1 : hash;
}

Intake::Intake(const Known& known)
    : newest_(known.newest.begin(), known.newest.end()),
      fingerprints_(known.fingerprints.begin(), known.fingerprints.end()) {}

bool Intake::IsNewest(rules::ChannelId channel, Instant measured_at, Instant now) const {
  const auto known = newest_.find(channel);
  if (known == newest_.end()) return true;
  // Stamped while the clock was wrong: it must not hide what comes until then.
  const bool from_the_future = known->second - now > kAhead;
  return from_the_future || measured_at >= known->second;
}

bool Intake::IsRepeat(const Message& message, std::uint64_t fingerprint) const {
  if (!message.duplicate) return false;
  const auto last = fingerprints_.find(std::string(message.topic));
  return last != fingerprints_.end() && last->second == fingerprint;
}

bool Intake::IsLive(const Reading& reading, const Message& message) const {
  const bool timed = reading.source == TimeSource::kOwn || reading.source == TimeSource::kArrival;
  if (!timed || !message.clock_known || Has(reading.marks, Mark::kRepeat)) return false;
  return message.at - reading.measured_at <= kLiveAge && IsNewest(reading.channel, reading.measured_at, message.at);
}

Reading Intake::Stamp(const Message& message, const Value& value, const Decoded& decoded, bool repeat) const {
  Reading reading{.channel = value.channel, .measured_at = message.at, .received_at = message.at, .milli = value.milli};
  if (decoded.own_time && IsBelievable(*decoded.own_time, message)) {
    // Its time is its identity, by which the store tells a repeat better than any mark.
    reading.measured_at = *decoded.own_time;
    reading.source = TimeSource::kOwn;
  } else {
    reading.source = SourceWithoutOwnTime(message);
    if (decoded.own_time || decoded.unreadable_time) reading.marks = With(reading.marks, Mark::kUnbelievable);
    if (repeat) reading.marks = With(reading.marks, Mark::kRepeat);
  }
  if (IsLive(reading, message)) reading.marks = With(reading.marks, Mark::kLive);
  return reading;
}

Intake::Read Intake::Look(const Message& message, const RouteTable& routes) const {
  Read read;
  const auto matching = routes.For(message.topic);
  read.routed = !matching.empty();
  if (message.retained || !read.routed) return read;
  read.batch.topic = message.topic;
  read.batch.fingerprint = FingerprintOf(message.topic, message.payload);
  const bool repeat = IsRepeat(message, read.batch.fingerprint);
  std::vector<std::string> nothing_there;
  for (const Route* route : matching) {
    auto decoded = Decode(*route, message.payload);
    for (const auto& value : decoded.values) read.batch.readings.push_back(Stamp(message, value, decoded, repeat));
    for (auto& fault : decoded.faults) read.faults.push_back(std::move(fault));
    if (!decoded.nothing_there.empty()) nothing_there.push_back(std::move(decoded.nothing_there));
  }
  // Probes may share a topic and speak in turn: silence is a fault only if nobody was heard.
  if (read.batch.readings.empty() && read.faults.empty()) read.faults = std::move(nothing_there);
  return read;
}

Intake::Settled Intake::Settle(const Batch& batch, const KeepResult& result) {
  Settled settled;
  for (std::size_t i = 0; i < batch.readings.size() && i < result.outcomes.size(); ++i) {
    const Reading& reading = batch.readings[i];
    if (result.outcomes[i] == Kept::kConflict) settled.faults.push_back(ConflictFault(reading));
    if (result.outcomes[i] != Kept::kNew) continue;
    if (IsNewest(reading.channel, reading.measured_at, reading.received_at)) {
      newest_[reading.channel] = reading.measured_at;
    }
    settled.fresh.push_back(reading);
  }
  if (fingerprints_.size() < kMostTopics || fingerprints_.contains(batch.topic)) {
    fingerprints_[batch.topic] = batch.fingerprint;
  }
  return settled;
}

}  // namespace rindwatch::sensors
