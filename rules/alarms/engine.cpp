#include "rules/alarms/engine.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "rules/alarms/body.hpp"
#include "rules/alarms/deadlines.hpp"
#include "rules/alarms/inputs.hpp"

namespace rindwatch::rules {

EngineState::EngineState() : body_(std::make_unique<Body>()) {}
EngineState::EngineState(const EngineState& other) : body_(std::make_unique<Body>(*other.body_)) {}
EngineState::EngineState(EngineState&&) noexcept = default;
EngineState& EngineState::operator=(EngineState&&) noexcept = default;
EngineState::~EngineState() = default;

EngineState& EngineState::operator=(const EngineState& other) {
  if (this != &other) body_ = std::make_unique<Body>(*other.body_);
  return *this;
}

const watch::Channel* EngineState::Body::FindChannel(ChannelId id) const {
  // Where no number is missing each lies at its own place; a search would touch others, which are large.
  const auto place = static_cast<std::size_t>(id) - 1;
  if (place < channels.size() && channels[place].id == id) return &channels[place];
  const auto found = std::ranges::lower_bound(channels, id, {}, &watch::Channel::id);
  return found != channels.end() && found->id == id ? &*found : nullptr;
}

watch::Channel* EngineState::Body::FindChannel(ChannelId id) {
  // What this may change the other search may not; it is the same one.
  // NOLINTNEXTLINE(cppcoreguidelines-pro-type-const-cast)
  return const_cast<watch::Channel*>(std::as_const(*this).FindChannel(id));
}

std::vector<Decision> Step(EngineState& state, const Input& input, Instant at) {
  std::vector<Decision> decisions;
  EngineState::Body& body = state.body();
  if (const auto* started = std::get_if<Started>(&input)) {
    watch::Start(body, *started, at, decisions);
    body.begun = true;
    return decisions;
  }
  if (!body.begun) body.now = at;
  body.begun = true;
  // A reading can only come to somebody who watches, whether or not a start was written down.
  if (!body.watching && std::holds_alternative<Reading>(input)) watch::Start(body, {}, at, decisions);
  if (body.watching) {
    watch::RunDeadlines(body, at, decisions);
  } else {
    watch::RunUnwatched(body, at, decisions);
  }
  std::visit(
      [&](const auto& one) {
        if constexpr (!std::is_same_v<std::decay_t<decltype(one)>, Started>) watch::TakeIn(body, one, decisions);
      },
      input);
  return decisions;
}

std::vector<Decision> Advance(EngineState& state, Instant at) {
  std::vector<Decision> decisions;
  if (state.body().begun && state.body().watching) watch::RunDeadlines(state.body(), at, decisions);
  return decisions;
}

std::optional<Instant> NextDeadline(const EngineState& state) { return watch::NextInstant(state.body()); }

std::vector<Alarm> EngineState::Alarms() const {
  std::vector<Alarm> alarms = body_->alarms;
  std::ranges::sort(alarms, [](const Alarm& a, const Alarm& b) {
    if (a.severity != b.severity) return a.severity > b.severity;
    if (a.raised != b.raised) return a.raised < b.raised;
    return std::tie(a.cave, a.id) < std::tie(b.cave, b.id);
  });
  return alarms;
}

}  // namespace rindwatch::rules
