#include "rules/alarms/plant_power.hpp"

#include <algorithm>

#include "rules/alarms/one_event.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch::rules::watch {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr double kRunsAbove = 0.25;  // of the most that the plant draws
constexpr double kLeastWatts = 3;
constexpr double kFadesPerReading = 1e-5;
constexpr std::int64_t kReadingsOfShare = 20;  // of two hours: a plug of each five minutes counts

bool PlugSpeaks(const EngineState::Body& body, const Cave& cave, Instant at) {
  return std::ranges::any_of(cave.other_channels, [&](ChannelId id) {
    const Channel& channel = *body.FindChannel(id);
    return channel.kind == ChannelKind::kPlantPower && channel.Speaks(at);
  });
}

}  // namespace

void HearPlant(EngineState::Body& body, CaveId id, double watts, bool anew, Instant at) {
  PlantWatch& plant = body.caves.at(id).plant;
  plant.most = std::max(watts, plant.most * (1 - kFadesPerReading));
  const bool runs = watts >= std::max(kLeastWatts, kRunsAbove * plant.most);
  plant.share.Add(at.time_since_epoch() / hours{1}, runs ? 1 : 0);
  const bool known = !anew && plant.changed != Instant{};
  if (known && runs == plant.runs) return;
  // A plant that failed did not rest.
  if (known && runs && !IsIll(body, id)) {
    plant.rests.Learn(at.time_since_epoch() / days{1}, (at - plant.changed) / minutes{1});
  }
  plant.runs = runs;
  plant.changed = at;
}

bool PlantTells(const EngineState::Body& body, const Cave& cave, Instant at) {
  const PlantWatch& plant = cave.plant;
  return plant.most >= kLeastWatts && plant.share.RecentCount() >= kReadingsOfShare && PlugSpeaks(body, cave, at);
}

bool PlantStandsStill(const EngineState::Body& body, const Cave& cave, Instant at) {
  const PlantWatch& plant = cave.plant;
  if (plant.runs || !PlantTells(body, cave, at)) return false;
  const auto longest = static_cast<double>(plant.rests.Longest(at.time_since_epoch() / days{1}));
  const Millis patience = Minutes(std::max(cave.settings.plant_still_after, cave.settings.plant_rests * longest));
  return at - plant.changed >= patience;
}

}  // namespace rindwatch::rules::watch
