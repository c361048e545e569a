// What the engine hears of the book.
#include <algorithm>
#include <set>

#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Input;
using rules::WheelId;

namespace {

// Moved, or young, or at a start of its own today. What has ripened for longer is entered when a book begins, and lay
// there before. Common practice, no source: brined and dried within a week.
constexpr std::chrono::days kYoung{7};
bool ComesIn(const WheelRow& wheel, rules::Date today) {
  const auto& starts = wheel.History().starts;
  const bool begins = std::ranges::any_of(starts, [today](const rules::StartEvent& start) {
    return start.day == today || (start.kind == rules::StartKind::kMade && start.day >= today - kYoung);
  });
  if (begins) return true;
  const auto earlier =
      std::ranges::count_if(wheel.places, [](const auto& since) { return since.value.cave.has_value(); });
  return earlier > 1;
}

// What probes said before a start by a clock that was right though nobody believed it, as the start's line holds it.
void AddHeard(const json::object& started, std::vector<Input>& into) {
  const json::value* const all = started.if_contains("heard");
  if (!all) return;
  for (const json::value& one : all->as_array()) {
    const json::object& said = one.as_object();
    rules::Reading reading;
    reading.channel = fields::Whole(said, "channel");
    reading.measured_at = reading.received_at = fields::At(said, "at");
    reading.milli = fields::Whole(said, "milli");
    reading.source = rules::TimeSource::kHeld;
    into.emplace_back(reading);
  }
}

}  // namespace

Input Book::WheelInput(const WheelRow& wheel) const {
  rules::WheelGiven given{wheel.id, std::nullopt, {}, WeightOf(wheel), std::nullopt, std::nullopt};
  if (const OwnBand* own = BandOf(wheel)) {
    given.own_temperature = own->temperature;
    given.own_humidity = own->humidity;
  }
  // Only what decides the stage: a year of cares would only be carried along.
  const rules::WheelHistory& all = wheel.History();
  given.history = {all.plans, all.starts, all.branches, {}, all.undos, {}, all.entered, all.gone};
  if (!IsUndone(wheel.act, wheel.id) && !IsGone(wheel)) given.cave = PlaceOf(wheel).cave;
  return given;
}

Input Book::CaveInput(const CaveRow& cave) const {
  const CaveWatching& watching = cave.watching_now;
  return rules::CaveGiven{cave.id,
                          cave.inside,
                          home_,
                          cave.limits_now.temperature,
                          cave.limits_now.humidity,
                          watching.own,
                          watching.out_of_service,
                          watching.ready_cheese};
}

void Book::AddProbeInputs(const ProbeRow& probe, std::vector<Input>& into) const {
  // What is out of service hangs nowhere as far as the watch is concerned; its readings are kept all the same.
  const auto cave = IsUndone(probe.act) || OutOfService(probe) ? std::nullopt : HangsIn(probe);
  for (const ProbeChannel& channel : probe.known_channels) {
    const bool is_read = std::ranges::find(probe.channels, channel.id, &ProbeChannel::id) != probe.channels.end();
    into.emplace_back(rules::ChannelHung{channel.id, probe.id, channel.kind, is_read ? cave : std::nullopt});
  }
}

void Book::AddUndoneInputs(const rules::ActId& of, std::vector<Input>& into) const {
  for (const WheelId id : WheelsOf(of)) {
    const auto wheel = wheels_.find(id);
    if (wheel != wheels_.end()) into.push_back(WheelInput(wheel->second));
  }
  const rules::ActId root = RootOf(of);
  const auto is_of_root = [&](const auto& since) { return since.act == root; };
  for (const auto& [id, probe] : probes_) {
    const bool touched = std::ranges::any_of(probe.hangs, is_of_root) ||
                         std::ranges::any_of(probe.described, is_of_root) ||
                         std::ranges::any_of(probe.service, is_of_root);
    if (probe.act == root || touched) AddProbeInputs(probe, into);
  }
  for (const auto& [id, cave] : caves_) {
    const bool touched = std::ranges::any_of(cave.limits, is_of_root) || std::ranges::any_of(cave.watching, is_of_root);
    if (touched) into.push_back(CaveInput(cave));
  }
}

std::vector<Input> Book::InputsOf(const JournalLine& line, const std::vector<Fact>& facts) const {
  std::vector<Input> inputs;
  std::set<WheelId> wheels;
  std::set<WheelId> laid;
  std::set<rules::CaveId> tended;
  for (const Fact& fact : facts) {
    if (fact.subject_kind == "cave") inputs.push_back(CaveInput(caves_.at(fact.subject)));
    if (fact.subject_kind == "wheel" && fact.what != "care") wheels.insert(fact.subject);
    // What is laid in now is warm goods; what is entered later proves nothing.
    const bool placed = fact.subject_kind == "wheel" && fact.what == "place" && !line.late_entry;
    if (placed && ComesIn(wheels_.at(fact.subject), home_.DayOf(line.at))) laid.insert(fact.subject);
    // A tick is proof that somebody is at the door now; one that is entered later proves nothing.
    if (fact.subject_kind == "wheel" && fact.what == "care" && !line.late_entry) {
      if (const auto cave = PlaceOf(wheels_.at(fact.subject)).cave) tended.insert(*cave);
    }
    const bool hung = fact.subject_kind == "probe" && (fact.what == "hangs" || fact.what == "service");
    if (hung) AddProbeInputs(probes_.at(fact.subject), inputs);
    if (fact.subject_kind == "act") AddUndoneInputs(fields::Text(fact.value.as_object(), "of"), inputs);
    if (fact.subject_kind == "alarm" && fact.what == "taken") {
      inputs.emplace_back(rules::AlarmTaken{fields::Text(fact.value.as_object(), "alarm"),
                                            line.Waited() ? std::optional(line.at) : std::nullopt});
    }
    if (fact.subject_kind == "alarm" && fact.what == "aside") {
      const json::object& value = fact.value.as_object();
      inputs.emplace_back(rules::AlarmSetAside{fields::Text(value, "alarm"), fields::At(value, "until")});
    }
  }
  for (const WheelId id : wheels) {
    Input input = WheelInput(wheels_.at(id));
    std::get<rules::WheelGiven>(input).laid_now = laid.contains(id);
    inputs.push_back(std::move(input));
  }
  for (const rules::CaveId cave : tended) inputs.emplace_back(rules::KeeperTended{cave});
  if (line.kind == "started") {
    const json::value body = json::parse(line.body);
    inputs.emplace_back(rules::Started{fields::MaybeAt(body.as_object(), "watched_until")});
    AddHeard(body.as_object(), inputs);
  }
  // One that was sent late quiets nothing now.
  if (line.kind == "here" && line.cave && !line.late_entry)
    inputs.emplace_back(rules::KeeperHere{*line.cave, line.keeper});
  if (line.kind == "out" && line.cave) inputs.emplace_back(rules::KeeperOut{*line.cave, line.keeper});
  if (line.kind == "stopped") inputs.emplace_back(rules::Stopped{});
  return inputs;
}

std::vector<Input> Book::InputsOfAll() const {
  std::vector<Input> inputs;
  for (const CaveRow* cave : Caves()) inputs.push_back(CaveInput(*cave));
  for (const auto& [id, probe] : probes_) AddProbeInputs(probe, inputs);
  for (const WheelRow* wheel : Wheels()) inputs.push_back(WheelInput(*wheel));
  return inputs;
}

}  // namespace rindwatch
