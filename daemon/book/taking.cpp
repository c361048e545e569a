// How the book takes in the facts of the journal, each once, in the journal's order.
#include <algorithm>

#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/judge_watching.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/book/parts.hpp"
#include "daemon/book/spans.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::ActId;
using rules::WheelId;

namespace {

// A machine that sleeps each night makes one a day.
constexpr std::size_t kMostOutlived = 100;

std::optional<std::int64_t> MaybeId(const json::value& value) {
  if (value.is_null()) return std::nullopt;
  return value.to_number<std::int64_t>();
}

ProbeDescription DescriptionFrom(const json::object& value, rules::ProbeId id) {
  ProbeDescription said;
  said.name = fields::Text(value, "name");
  said.route.filter = fields::Text(value, "topic");
  said.route.probe = id;
  said.route.format = sensors::FormatFromText(fields::Text(value, "format")).value_or(sensors::Format::kPlain);
  if (const std::string pointer = fields::TextOr(value, "time_pointer", ""); !pointer.empty()) {
    said.route.time_pointer = pointer;
  }
  for (const json::value& item : value.at("channels").as_array()) {
    const json::object& channel = item.as_object();
    const auto kind = static_cast<rules::ChannelKind>(fields::Whole(channel, "kind"));
    const auto unit = sensors::UnitFromText(fields::Text(channel, "unit"));
    said.route.channels.push_back({fields::Whole(channel, "id"), kind, fields::TextOr(channel, "pointer", ""),
                                   unit.value_or(sensors::UnitsOf(kind).front())});
  }
  return said;
}

}  // namespace

void Book::Take(const JournalLine& line, const Fact& fact) {
  ++version_;
  lives_.Open(line.id);
  if (!line.keeper.empty()) notes_.SignedBy(line.id, line.keeper);
  if (fact.subject_kind == "cave") TakeCave(line, fact);
  if (fact.subject_kind == "wheel") TakeWheel(line, fact);
  if (fact.subject_kind == "probe") TakeProbe(line, fact);
  if (fact.subject_kind == "act") TakeUndo(line, fact);
  if (fact.subject_kind == "alarm") TakeAlarm(line, fact);
  if (fact.subject_kind == "plan") TakePlanText(line, fact);
  if (fact.subject_kind == "house") TakeHouse(line, fact);
  if (fact.subject_kind == "lot") {
    const json::object& value = fact.value.as_object();
    lots_[fact.subject] = {fact.subject, fields::TextOr(value, "name", ""), fields::Text(value, "plan"),
                           fields::TruthOr(value, "split_off", false)};
  }
}

void Book::TakeCave(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  CaveRow& cave = caves_[fact.subject];
  if (fact.what == "limits") {
    cave.limits.push_back({fact.from, line.id, {SpanFrom(value, "temperature"), SpanFrom(value, "humidity")}});
  } else if (fact.what == "watching") {
    cave.watching.push_back({fact.from, line.id, WatchingFrom(value)});
  } else if (fact.what == "cave") {
    if (cave.id == 0) cave.act = line.id;
    cave.id = fact.subject;
    cave.kind = CaveKindFrom(fields::Text(value, "kind")).value_or(CaveKind::kRoom);
    cave.inside = MaybeId(value.at("inside"));
    cave.names.push_back({fact.from, line.id, fields::Text(value, "name")});
  } else {
    TakeWalk(cave, line, fact);
  }
  SettleCave(cave);
}

void Book::SettleCave(CaveRow& cave) const {
  const auto* name = NewestOf(*this, cave.names, std::nullopt);
  // A cave that stays although the act that made it is undone keeps the name that it came with.
  if (name || !cave.names.empty()) cave.name = name ? name->value : cave.names.front().value;
  const auto* limits = NewestOf(*this, cave.limits, std::nullopt);
  cave.limits_now = limits ? limits->value : CaveLimits{};
  const auto* watching = NewestOf(*this, cave.watching, std::nullopt);
  cave.watching_now = watching ? watching->value : CaveWatching{};
  SettleWalk(cave);
}

void Book::TakeWheel(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  WheelRow& wheel = wheels_[fact.subject];
  if (fact.what == "wheel") {
    wheel.id = fact.subject;
    wheel.act = line.id;
    wheel.lots.push_back({fact.from, line.id, fields::Whole(value, "lot")});
    wheel.number = static_cast<int>(fields::Whole(value, "number"));
    wheel.weight = {fields::MaybeNumber(value, "grams").value_or(0)};
    lives_.Write(wheel.life, Entered{fact.from});
  } else if (fact.what == "place") {
    wheel.places.push_back({fact.from,
                            line.id,
                            {MaybeId(value.at("cave")), fields::TextOr(value, "shelf", ""),
                             static_cast<int>(fields::MaybeWhole(value, "number").value_or(0))}});
  } else if (fact.what == "plan") {
    const auto plan = Plan(fields::Text(value, "plan"), static_cast<int>(fields::Whole(value, "version")));
    if (plan) lives_.Write(wheel.life, rules::PlanFrom{plan, fact.from, line.id});
  } else if (fact.what == "start") {
    const auto kind = rules::StartKindFrom(fields::Text(value, "start"));
    if (kind) {
      lives_.Write(wheel.life, rules::StartEvent{line.id, *kind, fields::Day(value, "day"), line.received_at,
                                                 value.at("reckoned").as_bool()});
    }
  } else if (fact.what == "branch") {
    lives_.Write(wheel.life, rules::BranchAnswer{line.id, fields::Text(value, "option"), fact.from});
  } else if (fact.what == "gone") {
    wheel.gone.push_back({fact.from, line.id, {fields::TextOr(value, "how", ""), fields::TextOr(value, "to", "")}});
  } else if (fact.what == "care") {
    TakeCare(wheel, line, fact);
  } else {
    TakeState(wheel, line, fact);
  }
  notes_.Names(line.id, fact.subject);
  HandUndosToHistory(wheel, line.id);
  SettleWheel(wheel);
}

// What is worked out from facts that an undo may have taken away.
void Book::SettleWheel(WheelRow& wheel) {
  const auto* gone = NewestOf(*this, wheel.gone, wheel.id);
  if (wheel.life || gone) lives_.Write(wheel.life, Gone{gone ? std::optional(gone->from) : std::nullopt});
  SettleLot(wheel);
  SettlePlace(wheel);
}

void Book::SettlePlace(const WheelRow& wheel) {
  if (wheel.id == 0) return;  // not entered yet
  if (IsUndone(wheel.act, wheel.id) || IsGone(wheel)) {
    boards_.Lift(wheel.id);
  } else {
    const auto* place = NewestOf(*this, wheel.places, wheel.id);
    boards_.Lay(wheel.id, place ? place->value : Place{}, wheel.lot);
  }
}

void Book::TakeCare(WheelRow& wheel, const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  rules::CareAct act;
  // "Last turned, last washed" come with the entry, and what was forgotten comes with the word that all is fine: each
  // a doing of its own.
  const bool is_part = line.id == wheel.act || line.kind == "past";
  act.id = is_part ? PartOf(line.id, wheel.History().acts.size()) : line.id;
  act.at = fact.from;
  act.known_from = fields::At(value, "known");
  act.done = fields::Kinds(value, "done");
  act.skipped = fields::Kinds(value, "skipped");
  act.reason = fields::TextOr(value, "reason", "");
  act.under =
      Plan(fields::TextOr(value, "plan", ""), static_cast<int>(fields::MaybeWhole(value, "version").value_or(0)));
  lives_.Write(wheel.life, act);
}

void Book::TakeProbe(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  ProbeRow& probe = probes_[fact.subject];
  if (fact.what == "service") {
    probe.service.push_back({fact.from, line.id, {fields::Truth(value, "out"), fields::TextOr(value, "why", "")}});
    return;
  }
  if (fact.what == "hangs") {
    probe.hangs.push_back({fact.from, line.id, MaybeId(value.at("cave"))});
    return;
  }
  if (probe.id == 0) probe.act = line.id;
  probe.id = fact.subject;
  ProbeDescription said = DescriptionFrom(value, fact.subject);
  for (const sensors::RouteChannel& channel : said.route.channels) {
    next_channel_ = std::max(next_channel_, channel.channel + 1);
    const bool known =
        std::ranges::find(probe.known_channels, channel.channel, &ProbeChannel::id) != probe.known_channels.end();
    if (!known) probe.known_channels.push_back({channel.channel, channel.kind});
  }
  probe.described.push_back({fact.from, line.id, std::move(said)});
  SettleProbe(probe);
}

void Book::SettleProbe(ProbeRow& probe) const {
  const auto* newest = NewestOf(*this, probe.described, std::nullopt);
  if (!newest) return;
  probe.name = newest->value.name;
  probe.route = newest->value.route;
  probe.channels.clear();
  for (const sensors::RouteChannel& channel : probe.route.channels)
    probe.channels.push_back({channel.channel, channel.kind});
}

void Book::TakeUndo(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  const ActId of = fields::Text(value, "of");
  Undo undo{line.id, std::nullopt, fact.from};
  if (!value.at("wheels").is_null()) undo.wheels = fields::Wheels(value, "wheels");
  undos_[of].push_back(undo);
  undo_of_[line.id] = of;
  if (undo.wheels) notes_.NamesAll(line.id, *undo.wheels);
  for (const WheelId id : WheelsOf(line.id)) {
    const auto found = wheels_.find(id);
    if (found == wheels_.end()) continue;
    HandUndosToHistory(found->second, of);
    SettleWheel(found->second);
  }
  for (auto& [id, cave] : caves_) SettleCave(cave);
  calendars_.clear();
  for (auto& [id, probe] : probes_) SettleProbe(probe);
}

// The history knows the parts of an act by names of their own, and so it does the undos of each.
void Book::HandUndosToHistory(WheelRow& wheel, const ActId& of) {
  if (!undos_.contains(of)) return;
  HandUndosToHistory(wheel, of, "");
  for (const std::string& part : PartsIn(wheel.History(), ToText(RootOf(of)))) HandUndosToHistory(wheel, of, part);
}

void Book::HandUndosToHistory(WheelRow& wheel, const ActId& of, const std::string& part) {
  const auto found = undos_.find(of);
  if (found == undos_.end()) return;
  for (const Undo& undo : found->second) {
    if (undo.wheels && std::ranges::find(*undo.wheels, wheel.id) == undo.wheels->end()) continue;
    const ActId id = ToText(undo.id) + part;
    const auto& undos = wheel.History().undos;
    if (std::ranges::find(undos, id, &rules::UndoAct::id) != undos.end()) continue;
    lives_.Write(wheel.life, rules::UndoAct{id, ToText(of) + part, undo.at});
    // What undoes the undo may have come before the act that all this is about.
    HandUndosToHistory(wheel, undo.id, part);
  }
}

void Book::TakeAlarm(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  if (fact.what == "change") {
    const std::string change = fields::TextOr(value, "change", "");
    json::object& record = alarms_[fields::Text(value, "alarm")];
    // What is quieted, or over, goes on having asked when it did.
    json::value asked = record.contains("asked") ? record.at("asked") : json::value(ToMillis(fact.from));
    const bool asks = change == "raised" || change == "raised severity" || change == "back";
    if (asks) asked = ToMillis(fact.from);
    // The line of what was decided first may be on its way still when the taking arrives.
    if (const auto taking = takings_.find(fields::Text(value, "alarm"));
        asks && taking != takings_.end() && taking->second.received_at < fact.from)
      taking->second.asks_again = true;
    // What got worse while it was quiet by design never sounded for it; of one alarm severities only rise.
    json::value told(json::string(fields::TextOr(value, "severity", "")));
    if (record.contains("told") && !asks) told = record.at("told");
    record = value;
    record["asked"] = std::move(asked);
    record["told"] = std::move(told);
  }
  if (fact.what == "called") {
    called_[fields::Text(value, "alarm")].push_back(
        {fact.from, line.id, {fields::Text(value, "what"), fields::TextOr(value, "remark", "")}});
  }
  if (fact.what == "taken") {
    const std::string alarm = fields::Text(value, "alarm");
    const auto record = alarms_.find(alarm);
    const json::value* asked = record == alarms_.end() ? nullptr : record->second.if_contains("asked");
    // What got worse after it was tapped was not taken.
    const bool lesser =
        line.Waited() && asked != nullptr && fact.from < rules::FromMillis(asked->to_number<std::int64_t>());
    if (!lesser) TakeTaking(alarm, {fact.from, line.received_at, line.keeper});
  }
  if (fact.what == "taken" || fact.what == "aside") alarm_acts_.insert(line.id);
}

void Book::TakeTaking(const std::string& alarm, Took took) {
  const auto [found, is_first] = takings_.try_emplace(alarm, Taking{took, false, {}});
  Taking& standing = found->second;
  if (is_first) return;
  if (standing.asks_again) {
    standing = {std::move(took), false, {}};
    return;
  }
  // One who keeps alone, or taps twice, is nobody else.
  if (took.keeper.empty() || standing.keeper.empty() || took.keeper == standing.keeper) return;
  const bool known = std::ranges::find(standing.others, took.keeper, &Took::keeper) != standing.others.end();
  if (!known) standing.others.push_back(std::move(took));
}

void Book::Remember(JournalLine line) {
  // A clock that was ahead and was set back: where it had gone on to, nobody has been. That hour comes once more, and
  // no silence is dated by it.
  if (line.kind == "started" && line.body.find("ahead_until") != std::string::npos)
    std::erase_if(newest_, [&](const JournalLine& one) { return one.kind == "leapt" && one.at > line.at; });
  newest_.push_back(std::move(line));
  // In front stand those by which silences are dated: they stay when the others of their time fall out, lest a date
  // that was told change by itself.
  const auto dates = [](const JournalLine& one) { return one.kind == "leapt"; };
  const auto oldest = std::ranges::find_if_not(newest_, dates);
  const auto outlived = static_cast<std::size_t>(oldest - newest_.begin());
  if (newest_.size() - outlived <= kMostNewest) return;
  newest_.erase(oldest);
  if (outlived > kMostOutlived) newest_.pop_front();
}

}  // namespace rindwatch
