// The engine's memory as text: version, what hangs and lies where, what was heard, what rings; a checksum closes it.
// Plans and zones that several share are written once.
#include <algorithm>

#include "rules/alarms/archive.hpp"
#include "rules/alarms/body.hpp"
#include "rules/alarms/facts_text.hpp"
#include "rules/alarms/hearing.hpp"
#include "rules/alarms/inputs.hpp"
#include "rules/alarms/lifecycle.hpp"
#include "rules/alarms/memory_text.hpp"
#include "rules/alarms/stake.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch::rules {
namespace watch {

// Not in an unnamed namespace: the fields' templates are found through their archive.
using Body = EngineState::Body;

// ---- A cave, and the whole ----

template <class Archive>
void Describe(Archive& archive, Cave& cave, Tables& tables) {
  Field(archive, cave.inside);
  std::size_t zone = 0;
  if constexpr (!Archive::kReads) {
    const auto found = std::ranges::find_if(tables.zones, [&](const Zone& z) { return Equal(z, cave.turn.zone); });
    zone = static_cast<std::size_t>(found - tables.zones.begin());
  }
  archive.Count(zone, tables.zones.size());
  if constexpr (Archive::kReads) {
    if (zone >= tables.zones.size()) return archive.Spoil();
    cave.turn.zone = tables.zones[zone];
  }
  Number(archive, cave.turn.hour, 0, 23);
  Field(archive, cave.temperature_limit);
  Field(archive, cave.humidity_limit);
  Field(archive, cave.own);
  Field(archive, cave.out_of_service);
  Field(archive, cave.ready_cheese);
  Field(archive, cave.next_day);
  Describe(archive, cave.temperature);
  Describe(archive, cave.humidity);
  for (Counter* counter : {&cave.condensation, &cave.disagree, &cave.slow_fall, &cave.day_up, &cave.dry_normal,
                           &cave.runs_on, &cave.stands_still, &cave.co2, &cave.ammonia}) {
    Describe(archive, *counter);
  }
  Describe(archive, cave.plant);
  Describe(archive, cave.humidifier);
  Describe(archive, cave.drain);
  for (auto* at : {&cave.here_until, &cave.tended, &cave.door_open, &cave.door_shut, &cave.ill_until, &cave.warmth_told,
                   &cave.dry_told, &cave.gas_over, &cave.door_answered, &cave.far_drier, &cave.far_drier_since})
    Field(archive, *at);
  Field(archive, cave.cooled_well_then);
  Field(archive, cave.here);
  Field(archive, cave.tended_judged);
  Field(archive, cave.absence);
  Field(archive, cave.shapes);
  Field(archive, cave.swings);
  Field(archive, cave.stay);
  Field(archive, cave.goods);
  if (cave.shapes.size() > Cave::kMostShapes || cave.swings.size() > Cave::kMostSwings) archive.Spoil();
  if constexpr (Archive::kReads) cave.settings = SettingsWith(cave.own);
}

template <class Archive, class T, class... More>
void List(Archive& archive, std::string_view tag, std::vector<T>& records, More&... more) {
  archive.Line(tag);
  std::size_t count = records.size();
  archive.Count(count, 10'000'000);
  if constexpr (Archive::kReads) records.assign(archive.Ok() ? count : 0, T{});
  for (T& record : records) {
    if (archive.Ok()) Describe(archive, record, more...);
  }
}

template <class Archive, class Id, class T, class Each>
void Map(Archive& archive, std::string_view tag, std::map<Id, T>& records, Each each) {
  archive.Line(std::string{tag} + "s");
  std::size_t count = records.size();
  archive.Count(count, 10'000'000);
  if constexpr (Archive::kReads) {
    for (std::size_t i = 0; i < count && archive.Ok(); ++i) {
      archive.Line(tag);
      Id id{};
      Field(archive, id);
      if (!records.empty() && id <= records.rbegin()->first) return archive.Spoil();
      each(records[id]);
    }
  } else {
    for (auto& [id, record] : records) {
      archive.Line(tag);
      Id written = id;
      Field(archive, written);
      each(record);
    }
  }
}

template <class Archive>
void Plans(Archive& archive, Tables& tables) {
  archive.Line("plans");
  std::size_t count = tables.plans.size();
  archive.Count(count, 100'000);
  if constexpr (Archive::kReads) tables.plans.resize(archive.Ok() ? count : 0);
  for (auto& shared : tables.plans) {
    Plan plan = shared ? *shared : Plan{};
    if (archive.Ok()) Describe(archive, plan);
    if constexpr (Archive::kReads) shared = std::make_shared<const Plan>(std::move(plan));
  }
}

template <class Archive>
void Describe(Archive& archive, Body& body, Tables& tables) {
  archive.Line("now");
  Field(archive, body.begun);
  Field(archive, body.now);
  Field(archive, body.watching);
  Field(archive, body.stopped);
  List(archive, "zones", tables.zones);
  Plans(archive, tables);
  Map(archive, "cave", body.caves, [&](Cave& cave) { Describe(archive, cave, tables); });
  List(archive, "channels", body.channels);
  Map(archive, "probe", body.probes, [&](Probe& probe) { Field(archive, probe.quiet_since); });
  Map(archive, "wheel", body.wheels, [&](Wheel& wheel) { Describe(archive, wheel, tables); });
  List(archive, "alarms", body.alarms);
}

namespace {

// In the order in which the records first name them, so that equal states make equal texts.
Tables TablesOf(const Body& body) {
  Tables tables;
  for (const auto& [id, cave] : body.caves) {
    const auto same = [&](const Zone& zone) { return Equal(zone, cave.turn.zone); };
    if (std::ranges::none_of(tables.zones, same)) tables.zones.push_back(cave.turn.zone);
  }
  for (const auto& [id, wheel] : body.wheels) {
    for (const PlanFrom& from : wheel.history.plans) {
      if (std::ranges::count(tables.plans, from.plan) == 0) tables.plans.push_back(from.plan);
    }
  }
  return tables;
}

// What the rest relies on and no single record can tell.
bool HangsTogether(const Body& body) {
  const auto cave_known = [&](const std::optional<CaveId>& cave) { return !cave || body.caves.contains(*cave); };
  const auto hangs = [&](const Channel& channel) {
    return cave_known(channel.cave) &&
           (!channel.cave || !channel.OughtToSpeak() || body.probes.contains(channel.probe));
  };
  const auto has_channel = [&](const auto& entry) {
    return std::ranges::any_of(body.channels, [&](const Channel& channel) {
      return channel.probe == entry.first && channel.cave && channel.OughtToSpeak();
    });
  };
  const auto lies = [&](const auto& entry) { return body.caves.contains(entry.second.cave); };
  return std::ranges::all_of(body.channels, hangs) && std::ranges::all_of(body.probes, has_channel) &&
         std::ranges::all_of(body.wheels, lies) &&
         std::ranges::is_sorted(body.channels, std::ranges::less_equal{}, &Channel::id);
}

void WorkOut(Body& body, Tables tables) {
  body.plans = std::move(tables.plans);
  for (auto& [id, wheel] : body.wheels) LookUp(body, wheel, wheel.looked_up);
  ListChannels(body);
  ListStanding(body);
  WeighUpAll(body);
  ListEstimates(body);
  body.wake = body.now;
}

std::string Heading() { return "rindwatch watch " + std::to_string(kRulesVersion) + "\n"; }

}  // namespace

}  // namespace watch

std::string EngineState::ToText() const {
  watch::Writer writer;
  Body body = *body_;  // a description takes what it may change; writing changes nothing
  watch::Tables tables = watch::TablesOf(body);
  watch::Describe(writer, body, tables);
  std::string text = watch::Heading() + writer.Take() + "\n";
  return text + "sum " + watch::Checksum(text) + "\n";
}

std::optional<EngineState> EngineState::FromText(std::string_view text) {
  const std::string heading = watch::Heading();
  const std::size_t sum = text.rfind("sum ");
  if (!text.starts_with(heading) || sum == std::string_view::npos || sum < heading.size()) return std::nullopt;
  if (text.substr(sum) != "sum " + watch::Checksum(text.substr(0, sum)) + "\n") return std::nullopt;
  watch::Reader reader(text.substr(heading.size(), sum - heading.size() - 1));
  EngineState state;
  watch::Tables tables;
  watch::Describe(reader, state.body(), tables);
  if (!reader.Ok() || !reader.AtEnd() || !watch::HangsTogether(state.body())) return std::nullopt;
  watch::WorkOut(state.body(), std::move(tables));
  return state;
}

}  // namespace rindwatch::rules
