// The engine's memory as text: version, what hangs and lies where, what was heard, what rings; a checksum closes it.
// Plans and zones that several share are written once.
#include <algorithm>

#include "rules/alarms/archive.hpp"
#include "rules/alarms/body.hpp"
#include "rules/alarms/inputs.hpp"
#include "rules/alarms/stake.hpp"

namespace rindwatch::rules {
namespace watch {

// Not in an unnamed namespace: the fields' templates are found through their archive.
using Body = EngineState::Body;

// What the records refer to by number.
struct Tables {
  std::vector<std::shared_ptr<const Plan>> plans;
  std::vector<Zone> zones;
};

static bool Equal(const Zone& a, const Zone& b) {
  const auto same = [](const Zone::Transition& x, const Zone::Transition& y) {
    return x.from == y.from && x.offset == y.offset;
  };
  return a.Name() == b.Name() && a.FirstOffset() == b.FirstOffset() &&
         std::ranges::equal(a.Transitions(), b.Transitions(), same);
}

template <class Archive>
void Field(Archive& archive, Figure& figure) {
  Field(archive, figure.low);
  Field(archive, figure.high);
  Field(archive, figure.source);
}

template <class Archive, class Enum>
void Kind(Archive& archive, Enum& kind, Enum last) {
  Number(archive, kind, 0, static_cast<std::int64_t>(last));
}

// ---- Zones ----

template <class Archive>
void Seconds(Archive& archive, std::chrono::seconds& offset) {
  std::int64_t count = offset.count();
  Number(archive, count, -200'000, 200'000);
  offset = std::chrono::seconds{count};
}

template <class Archive>
void Field(Archive& archive, Zone::Transition& transition) {
  Field(archive, transition.from);
  Seconds(archive, transition.offset);
}

template <class Archive>
void Describe(Archive& archive, Zone& zone) {
  archive.Line("zone");
  std::string name = zone.Name();
  std::chrono::seconds offset = zone.FirstOffset();
  std::vector<Zone::Transition> transitions = zone.Transitions();
  Field(archive, name);
  Seconds(archive, offset);
  Field(archive, transitions);
  if constexpr (Archive::kReads) {
    if (!std::ranges::is_sorted(transitions, {}, &Zone::Transition::from)) archive.Spoil();
    if (archive.Ok()) zone = Zone{std::move(name), offset, std::move(transitions)};
  }
}

// ---- Plans, as trimmed ----

template <class Archive>
void Field(Archive& archive, Stage& stage) {
  archive.Line("stage");
  Field(archive, stage.name);
  Kind(archive, stage.state, WheelState::kHolding);
  Field(archive, stage.first_day);
  Field(archive, stage.last_day);
  Field(archive, stage.temperature_target);
  Field(archive, stage.temperature_band);
  Field(archive, stage.humidity_target);
  Field(archive, stage.humidity_band);
}

template <class Archive>
void Field(Archive& archive, BranchOption& option) {
  archive.Line("option");
  Field(archive, option.name);
  Field(archive, option.stages);
}

template <class Archive>
void Field(Archive& archive, Branch& branch) {
  Field(archive, branch.asked_from);
  Field(archive, branch.default_option);
  Field(archive, branch.options);
}

template <class Archive>
void Field(Archive& archive, Part& part) {
  archive.Line("part");
  Kind(archive, part.start, StartKind::kWrapped);
  Field(archive, part.asked_from);
  Field(archive, part.usual_days);
  Field(archive, part.stages);
  Field(archive, part.branch);
  if (part.stages.empty()) archive.Spoil();
}

template <class Archive>
void Describe(Archive& archive, Plan& plan) {
  archive.Line("plan");
  Field(archive, plan.format);
  Field(archive, plan.id);
  Field(archive, plan.version);
  Field(archive, plan.hardiness);
  Field(archive, plan.parts);
  if (plan.parts.empty()) archive.Spoil();
}

// ---- What the probes said ----

template <class Archive>
void Describe(Archive& archive, Cadence& cadence) {
  std::vector<std::int64_t> gaps = cadence.Gaps();
  Field(archive, gaps);
  if constexpr (Archive::kReads) {
    if (std::ranges::any_of(gaps, [](std::int64_t gap) { return gap <= 0 || gap > kFarthest; })) archive.Spoil();
    if (archive.Ok()) cadence = Cadence::FromGaps(gaps);
  }
}

template <class Archive>
void Describe(Archive& archive, Window& window) {
  int length = window.Minutes();
  Number(archive, length, 3, 24 * 60);
  std::int64_t minute = window.OpenMinute(), sum = window.OpenSum(), count = window.OpenCount();
  Number(archive, minute, 0, kFarthest);
  Field(archive, sum);
  Field(archive, count);
  const std::vector<std::int32_t> held = window.Closed();
  std::vector<std::int64_t> closed(held.begin(), held.end());
  Field(archive, closed);
  if constexpr (Archive::kReads) {
    const auto fits = [](std::int64_t value) { return value >= Window::kEmpty && value <= -(Window::kEmpty + 1); };
    if (!std::ranges::all_of(closed, fits)) archive.Spoil();
    if (!archive.Ok()) return;
    window = Window{length};
    std::vector<std::int32_t> values;
    for (const std::int64_t value : closed) values.push_back(static_cast<std::int32_t>(value));
    if (!window.Restore(minute, sum, count, values)) archive.Spoil();
  }
}

template <class Archive>
void Describe(Archive& archive, Channel& channel) {
  archive.Line("channel");
  Field(archive, channel.id);
  Field(archive, channel.probe);
  Number(archive, channel.kind, 1, 9);
  Field(archive, channel.cave);
  Field(archive, channel.heard);
  Field(archive, channel.measured);
  Field(archive, channel.latest);
  Field(archive, channel.unbroken_since);
  Field(archive, channel.learns);
  Describe(archive, channel.cadence);
  Describe(archive, channel.window);
}

// ---- What is judged ----

template <class Archive>
void Field(Archive& archive, Delay& delay) {
  Field(archive, delay.beyond);
  Field(archive, delay.inside);
}

template <class Archive>
void Describe(Archive& archive, Side& side) {
  Field(archive, side.edge);
  Field(archive, side.act);
  Field(archive, side.urgent);
  Field(archive, side.back);
  Field(archive, side.since);
  Field(archive, side.dose);
  Field(archive, side.extreme);
  Field(archive, side.out);
}

template <class Archive>
void Describe(Archive& archive, AirWatch& watch) {
  Describe(archive, watch.high);
  Describe(archive, watch.low);
  Field(archive, watch.judged);
}

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
  Field(archive, cave.next_day);
  Describe(archive, cave.temperature);
  Describe(archive, cave.humidity);
}

// ---- What the wheels are ----

template <class Archive>
void Field(Archive& archive, StartEvent& start) {
  Field(archive, start.id);
  Kind(archive, start.kind, StartKind::kWrapped);
  Field(archive, start.day);
  Field(archive, start.known_from);
  Field(archive, start.reckoned);
}

template <class Archive>
void Field(Archive& archive, BranchAnswer& answer) {
  Field(archive, answer.id);
  Field(archive, answer.option);
  Field(archive, answer.at);
}

template <class Archive>
void Field(Archive& archive, UndoAct& undo) {
  Field(archive, undo.id);
  Field(archive, undo.of);
  Field(archive, undo.at);
}

template <class Archive>
void Describe(Archive& archive, PlanFrom& from, const Tables& tables) {
  std::size_t index = 0;
  if constexpr (!Archive::kReads) {
    index = static_cast<std::size_t>(std::ranges::find(tables.plans, from.plan) - tables.plans.begin());
  }
  archive.Count(index, tables.plans.size());
  if constexpr (Archive::kReads) {
    if (index >= tables.plans.size()) return archive.Spoil();
    from.plan = tables.plans[index];
  }
  Field(archive, from.from);
  Field(archive, from.id);
}

template <class Archive>
void Describe(Archive& archive, Wheel& wheel, Tables& tables) {
  Field(archive, wheel.cave);
  Field(archive, wheel.weight.value);
  Field(archive, wheel.looked_up);
  Field(archive, wheel.history.entered);
  Field(archive, wheel.history.gone);
  Field(archive, wheel.history.starts);
  Field(archive, wheel.history.branches);
  Field(archive, wheel.history.undos);
  std::size_t plans = wheel.history.plans.size();
  archive.Count(plans, 100'000);
  if constexpr (Archive::kReads) wheel.history.plans.resize(archive.Ok() ? plans : 0);
  for (PlanFrom& from : wheel.history.plans) Describe(archive, from, tables);
}

// ---- What rings ----

template <class Archive>
void Describe(Archive& archive, Alarm& alarm) {
  archive.Line("alarm");
  Field(archive, alarm.id);
  Kind(archive, alarm.kind, AlarmKind::kProbeSilent);
  Number(archive, alarm.severity, 1, 4);
  Field(archive, alarm.cave);
  Field(archive, alarm.probe);
  Field(archive, alarm.since);
  Field(archive, alarm.raised);
  Field(archive, alarm.taken);
  Field(archive, alarm.over);
  Field(archive, alarm.aside_until);
  Field(archive, alarm.value);
  Field(archive, alarm.extreme);
  Field(archive, alarm.dose);
  Field(archive, alarm.band);
  Field(archive, alarm.wheels);
  Field(archive, alarm.found_later);
}

// ---- The whole ----

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

// In the order in which the records first name them, so that equal states make equal texts.
static Tables TablesOf(const Body& body) {
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
static bool HangsTogether(const Body& body) {
  const auto cave_known = [&](const std::optional<CaveId>& cave) { return !cave || body.caves.contains(*cave); };
  const auto hangs = [&](const Channel& channel) {
    return cave_known(channel.cave) && (!channel.cave || !channel.Judged() || body.probes.contains(channel.probe));
  };
  const auto has_channel = [&](const auto& entry) {
    return std::ranges::any_of(body.channels, [&](const Channel& channel) {
      return channel.probe == entry.first && channel.cave && channel.Judged();
    });
  };
  const auto lies = [&](const auto& entry) { return body.caves.contains(entry.second.cave); };
  return std::ranges::all_of(body.channels, hangs) && std::ranges::all_of(body.probes, has_channel) &&
         std::ranges::all_of(body.wheels, lies) &&
         std::ranges::is_sorted(body.channels, std::ranges::less_equal{}, &Channel::id);
}

static void WorkOut(Body& body, Tables tables) {
  body.plans = std::move(tables.plans);
  for (auto& [id, wheel] : body.wheels) LookUp(body, wheel, wheel.looked_up);
  ListChannels(body);
  WeighUpAll(body);
  body.wake = body.now;
}

static std::string Heading() { return "rindwatch watch " + std::to_string(kRulesVersion) + "\n"; }

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
