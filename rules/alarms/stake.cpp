#include "rules/alarms/stake.hpp"

#include <algorithm>
#include <cmath>

#include "rules/alarms/thresholds.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch::rules::watch {
namespace {

void TrimStages(std::vector<Stage>& stages) {
  for (Stage& stage : stages) {
    stage.cares.clear();
    for (auto* figure :
         {&stage.temperature_band, &stage.humidity_band, &stage.temperature_target, &stage.humidity_target}) {
      *figure = Usable(*figure);
    }
  }
}

// Keeps what decides the stage of a day and its figures.
Plan TrimmedPlan(const Plan& plan) {
  Plan trimmed;
  trimmed.format = plan.format;
  trimmed.id = plan.id;
  trimmed.version = plan.version;
  trimmed.hardiness = plan.hardiness;
  trimmed.parts = plan.parts;
  for (Part& part : trimmed.parts) {
    part.question.clear();
    TrimStages(part.stages);
    if (!part.branch) continue;
    part.branch->question.clear();
    for (BranchOption& option : part.branch->options) TrimStages(option.stages);
  }
  return trimmed;
}

std::shared_ptr<const Plan> Shared(Body& body, Plan plan) {
  std::erase_if(body.plans, [](const auto& kept) { return kept.use_count() == 1; });
  const auto found = std::ranges::find_if(body.plans, [&](const auto& kept) { return *kept == plan; });
  if (found != body.plans.end()) return *found;
  body.plans.push_back(std::make_shared<const Plan>(std::move(plan)));
  return body.plans.back();
}

bool Overlap(const Figure& a, const Figure& b) { return std::max(a.low, b.low) < std::min(a.high, b.high); }

// The plan's target as far as a band of the wheel's own leaves it.
std::optional<Figure> Inside(const std::optional<Figure>& target, const std::optional<Figure>& own) {
  if (!target || !own) return target;
  if (target->low > own->high || target->high < own->low) return std::nullopt;
  return Figure{std::max(target->low, own->low), std::min(target->high, own->high), target->source};
}

// A wheel with a band, as it takes part in the weighing.
struct Asker {
  WheelId id;
  const Wheel* wheel;
};

// Soft before blue, semi-hard and hard; then the younger; then by id, so that the order never matters.
bool MoreDelicate(const Asker& a, const Asker& b) {
  if (a.wheel->hardiness != b.wheel->hardiness) return a.wheel->hardiness < b.wheel->hardiness;
  if (a.wheel->age != b.wheel->age) return a.wheel->age < b.wheel->age;
  return a.id < b.id;
}

// The part that all have in common; the first one's where there is none. `askers` is not empty and begins with the most
// delicate; the source named is its.
template <typename Of>
std::optional<Figure> Common(const std::vector<Asker>& askers, Of of) {
  const std::optional<Figure>& first = of(*askers.front().wheel);
  std::optional<Figure> common = first;
  for (const Asker& asker : askers) {
    const std::optional<Figure>& figure = of(*asker.wheel);
    if (!figure) continue;
    if (!common) {
      common = figure;
      continue;
    }
    common->low = std::max(common->low, figure->low);
    common->high = std::min(common->high, figure->high);
  }
  if (common && common->low > common->high) return first;
  return common;
}

bool IsSmall(const Wheel& wheel, const Settings& settings) {
  return wheel.weight.value > 0 ? wheel.weight.value <= settings.silent_small_up_to : wheel.hardiness <= kSoft;
}

// The caves whose wheels count here: its own and, for temperature, those in boxes inside it. A wheel in a box feels the
// temperature around the box, never the humidity.
std::vector<CaveId> CountingCaves(const Body& body, CaveId cave, ChannelKind kind) {
  std::vector<CaveId> counting{cave};
  if (kind != ChannelKind::kTemperature) return counting;
  for (const auto& [id, other] : body.caves) {
    if (id != cave && std::ranges::count(Outwards(body, id), cave) > 0) counting.push_back(id);
  }
  return counting;
}

// Ready cheese is kept cold whatever its plan once asked for, unless the keeper typed a limit in.
std::optional<Figure> LimitOf(const Cave& cave, const std::optional<Figure>& typed, ChannelKind kind) {
  if (typed || !cave.ready_cheese || kind != ChannelKind::kTemperature) return typed;
  return Figure{kFreezing, cave.settings.ready_limit, "ready cheese"};
}

// Finished cheese lies wrapped (common practice, no source): what its rind once asked of the air's humidity is past.
bool AsksOf(const Cave& cave, const std::optional<Figure>& limit, ChannelKind kind) {
  return kind != ChannelKind::kHumidity || !cave.ready_cheese || limit;
}

// The cave whose probes say what the air of a cave is: the nearest outwards in which the temperature is measured.
std::optional<CaveId> LenderOf(const Body& body, CaveId cave) {
  for (const CaveId around : Outwards(body, cave)) {
    const auto found = body.caves.find(around);
    if (found != body.caves.end() && !found->second.temperature_channels.empty()) return around;
  }
  return std::nullopt;
}

// The wheels that the probes of a cave reach, by class and by what they ask.
void AddClasses(const Body& body, CaveId id, const std::optional<Figure>& limit, Stake& stake) {
  for (const Stake::Asking& asking : stake.wheels) {
    const Wheel& wheel = body.wheels.at(asking.wheel);
    if (LenderOf(body, wheel.cave) != id) continue;
    const WheelClass kind = ClassOf(wheel.weight, wheel.hardiness, wheel.cave != id);
    const std::optional<Figure>& band = limit ? limit : asking.band;
    const auto same = std::ranges::find_if(
        stake.classes, [&](const Stake::ClassAsking& other) { return other.kind == kind && other.band == band; });
    if (same != stake.classes.end()) {
      same->wheels.push_back(asking.wheel);
    } else {
      stake.classes.push_back({kind, band, {asking.wheel}});
    }
  }
}

Stake Weigh(const Body& body, CaveId cave, const std::optional<Figure>& typed, ChannelKind kind) {
  const std::optional<Figure> limit = LimitOf(body.caves.at(cave), typed, kind);
  const Settings& settings = body.caves.at(cave).settings;
  Stake stake;
  std::vector<Asker> askers;
  const std::vector<CaveId> counting = CountingCaves(body, cave, kind);
  const bool asks = AsksOf(body.caves.at(cave), limit, kind);
  for (const auto& [id, wheel] : body.wheels) {
    if (std::ranges::count(counting, wheel.cave) == 0) continue;
    const std::optional<Figure> band = asks ? wheel.Band(kind) : std::nullopt;
    stake.wheels.push_back({id, band});
    if (band) askers.push_back({id, &wheel});
    if (!band && !limit) continue;  // nothing is asked of the air for it: rings at most a hint
    // A young rind cracks as fast as a soft one, whatever its family.
    const bool young = kind == ChannelKind::kHumidity && wheel.age < settings.dry_young_below;
    stake.tender |= wheel.hardiness <= kTenderUpTo || young;
    stake.small |= IsSmall(wheel, settings);
  }
  std::ranges::sort(askers, MoreDelicate);
  if (!askers.empty()) {
    stake.band = Common(askers, [kind](const Wheel& wheel) -> auto& { return wheel.Band(kind); });
    // A common point is no band: nothing could be kept on it.
    if (stake.band->low >= stake.band->high) stake.band = askers.front().wheel->Band(kind);
    stake.target = Common(askers, [kind](const Wheel& wheel) -> auto& { return wheel.Target(kind); });
  }
  if (limit) stake.band = limit;
  for (const Asker& asker : askers) {
    if (!Overlap(*asker.wheel->Band(kind), *stake.band)) stake.unsuited.push_back(asker.id);
  }
  std::ranges::sort(stake.unsuited);
  if (kind == ChannelKind::kTemperature) AddClasses(body, cave, limit, stake);
  return stake;
}

}  // namespace

std::optional<Figure> Usable(const std::optional<Figure>& figure) {
  if (!figure || !std::isfinite(figure->low) || !std::isfinite(figure->high) || figure->low > figure->high) return {};
  return figure;
}

WheelHistory Trimmed(Body& body, const WheelHistory& history) {
  WheelHistory trimmed = history;
  trimmed.acts.clear();
  trimmed.agreed.clear();
  std::erase_if(trimmed.plans, [](const PlanFrom& from) { return !from.plan; });
  for (PlanFrom& from : trimmed.plans) from.plan = Shared(body, TrimmedPlan(*from.plan));
  return trimmed;
}

void LookUp(const Body& body, Wheel& wheel, Instant at) {
  wheel.looked_up = at;
  wheel.temperature_band = wheel.humidity_band = wheel.temperature_target = wheel.humidity_target = std::nullopt;
  wheel.hardiness = wheel.age = 0;
  // Its own band holds in every stage, those without a band too.
  if (wheel.own_temperature) wheel.temperature_band = wheel.own_temperature;
  if (wheel.own_humidity) wheel.humidity_band = wheel.own_humidity;
  if (wheel.history.plans.empty()) return;
  const auto cave = body.caves.find(wheel.cave);
  const CareCalendar calendar{cave == body.caves.end() ? DayTurn{} : cave->second.turn, {}, {}};
  const Standing standing = StandingAt(wheel.history, calendar, at);
  if (!standing.plan) return;
  wheel.hardiness = standing.plan->hardiness;
  wheel.age = standing.age;
  if (!standing.stage || standing.gone) return;
  if (!wheel.own_temperature) wheel.temperature_band = standing.stage->temperature_band;
  if (!wheel.own_humidity) wheel.humidity_band = standing.stage->humidity_band;
  wheel.temperature_target = Inside(standing.stage->temperature_target, wheel.own_temperature);
  wheel.humidity_target = Inside(standing.stage->humidity_target, wheel.own_humidity);
}

void LookUpWheels(Body& body, CaveId cave, Instant at) {
  for (auto& [id, wheel] : body.wheels) {
    if (wheel.cave == cave) LookUp(body, wheel, at);
  }
}

std::vector<CaveId> Outwards(const Body& body, CaveId cave) {
  std::vector<CaveId> chain{cave};
  for (auto found = body.caves.find(cave); found != body.caves.end() && found->second.inside;
       found = body.caves.find(chain.back())) {
    if (std::ranges::count(chain, *found->second.inside) > 0) break;
    chain.push_back(*found->second.inside);
  }
  return chain;
}

bool FollowsAnother(const Body& body, CaveId cave) {
  return std::ranges::any_of(Outwards(body, cave), [&](CaveId around) {
    const auto found = body.caves.find(around);
    return around != cave && found != body.caves.end() && !found->second.temperature_channels.empty();
  });
}

void WeighUp(Body& body, CaveId cave) {
  for (const CaveId id : Outwards(body, cave)) {
    const auto found = body.caves.find(id);
    if (found == body.caves.end()) continue;
    for (const ChannelKind kind : kJudgedKinds) {
      found->second.StakeOf(kind) = Weigh(body, id, found->second.Limit(kind), kind);
    }
  }
}

void WeighUpAll(Body& body) {
  for (auto& [id, cave] : body.caves) {
    for (const ChannelKind kind : kJudgedKinds) cave.StakeOf(kind) = Weigh(body, id, cave.Limit(kind), kind);
  }
}

std::vector<WheelId> Touched(const Stake& stake, int side, double value) {
  std::vector<WheelId> touched, all;
  for (const Stake::Asking& asking : stake.wheels) {
    all.push_back(asking.wheel);
    if (!asking.band) continue;
    if (side > 0 ? value > asking.band->high : value < asking.band->low) touched.push_back(asking.wheel);
  }
  return touched.empty() ? all : touched;
}

}  // namespace rindwatch::rules::watch
