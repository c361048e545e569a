#include "daemon/replay/compared.hpp"

#include <algorithm>
#include <optional>
#include <set>

namespace rindwatch {

using rules::Instant;
using rules::Millis;

namespace {

// With other limits the same event may ring so much sooner or later.
constexpr Millis kNear = std::chrono::hours{6};

// Different names for the warmth of one event.
bool TellsWarmth(rules::AlarmKind kind) {
  switch (kind) {
    case rules::AlarmKind::kTooWarm:
    case rules::AlarmKind::kPlantWeak:
    case rules::AlarmKind::kDoorOpen:
    case rules::AlarmKind::kPowerGone:
      return true;
    default:
      return false;
  }
}

bool IsOneMatter(const Rung& a, const Rung& b) {
  const bool same = a.kind == b.kind && a.probe == b.probe;
  return a.cave == b.cave && (same || (TellsWarmth(a.kind) && TellsWarmth(b.kind)));
}

// What lies between the two; none where they have some time in common. What is not over goes on.
Millis Between(const Rung& a, const Rung& b) {
  const auto begins = [](const Rung& rung) { return std::min(rung.since, rung.raised); };
  const auto ends = [](const Rung& rung) { return rung.over.value_or(Instant::max()); };
  if (ends(a) < begins(b)) return begins(b) - ends(a);
  if (ends(b) < begins(a)) return begins(a) - ends(b);
  return Millis{0};
}

// The places in `then` of those that `now` stands for.
std::vector<std::size_t> StandsFor(const Rung& now, const std::vector<Rung>& then) {
  std::vector<std::size_t> common;
  std::optional<std::size_t> nearest;
  Millis distance = kNear;
  for (std::size_t i = 0; i < then.size(); ++i) {
    if (now.id == then[i].id) {
      common.insert(common.begin(), i);
      continue;
    }
    if (!IsOneMatter(now, then[i])) continue;
    const Millis between = Between(now, then[i]);
    if (between == Millis{0}) common.push_back(i);
    if (between <= distance) {
      nearest = i;
      distance = between;
    }
  }
  if (common.empty() && nearest) common.push_back(*nearest);
  return common;
}

Retold& PlaceOf(Compared& compared, const Rung& rung) {
  if (rung.called.empty()) return compared.unsaid;
  return IsReal(rung.kind, rung.called) ? compared.real : compared.called[rung.called];
}

void CallAs(Rung& now, const std::vector<Rung>& then, const std::vector<std::size_t>& stands_for) {
  for (const std::size_t i : stands_for) {
    if (!now.called.empty() || now.kind != then[i].kind) continue;
    now.called = then[i].called;
  }
}

}  // namespace

Compared Compare(const std::vector<Rung>& then, std::vector<Rung>& now) {
  std::set<std::string> known;
  for (const Rung& rung : then) known.insert(rung.id);
  Compared compared;
  std::vector<bool> still(then.size(), false);
  for (Rung& rung : now) {
    const std::vector<std::size_t> stands_for = StandsFor(rung, then);
    // What the journal has itself is called as the keeper called it, or not at all.
    if (!known.contains(rung.id)) CallAs(rung, then, stands_for);
    if (!rung.Rang()) continue;
    bool rang_then = false;
    for (const std::size_t i : stands_for) {
      still[i] = true;
      rang_then |= then[i].Rang();
    }
    compared.fresh += !rang_then;
  }
  for (std::size_t i = 0; i < then.size(); ++i) {
    if (!then[i].Rang()) continue;
    Retold& place = PlaceOf(compared, then[i]);
    ++place.rang;
    place.still += still[i];
  }
  return compared;
}

}  // namespace rindwatch
