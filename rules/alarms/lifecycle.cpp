#include "rules/alarms/lifecycle.hpp"

#include <algorithm>

#include "rules/alarms/one_event.hpp"
#include "rules/alarms/presence.hpp"
#include "rules/alarms/thresholds.hpp"
#include "rules/alarms/water.hpp"

namespace rindwatch::rules::watch {
namespace {

std::string Name(const Alarm& alarm) {
  std::string name{alarm.why == Why::kPlanStep ? "step-" : ""};
  name += ToText(alarm.kind);
  std::ranges::replace(name, ' ', '-');
  return name + "-" + std::to_string(alarm.probe.value_or(alarm.cave)) + "-" + std::to_string(ToMillis(alarm.raised));
}

Alarm* Find(Body& body, const std::string& id) {
  const auto found = std::ranges::find(body.alarms, id, &Alarm::id);
  return found == body.alarms.end() ? nullptr : &*found;
}

bool Asks(Decision::Change change) {
  return change == Decision::Change::kRaised || change == Decision::Change::kRaisedSeverity ||
         change == Decision::Change::kBack;
}

void Tell(Body& body, Decision::Change change, Alarm& alarm, Instant at, Decisions& out) {
  if (Asks(change)) alarm.asked = at;
  if (body.found_later) alarm.found_later = true;
  out.push_back({change, at, alarm});
}

// Nobody has to see it any more: a keeper took it, or takes the one that tells of it.
bool IsSettled(const Alarm& alarm) { return !alarm.Untaken(); }

bool May(const Alarm& alarm, LifeEvent event) { return After(LifeOf(alarm), event, IsSettled(alarm)).has_value(); }

void DropSettled(Body& body) {
  std::erase_if(body.alarms, [](const Alarm& alarm) { return IsSettled(alarm) && alarm.over; });
}

}  // namespace

void ListStanding(Body& body) {
  body.standing.reset();
  for (const Alarm& alarm : body.alarms) {
    if (!alarm.over) body.standing.set(static_cast<std::size_t>(alarm.kind));
  }
}

Alarm* Standing(Body& body, AlarmKind kind, CaveId cave) {
  if (!body.Stands(kind)) return nullptr;
  for (Alarm& alarm : body.alarms) {
    const bool is_step = alarm.why == Why::kPlanStep;
    if (alarm.kind == kind && alarm.cave == cave && !is_step && !alarm.over) return &alarm;
  }
  return nullptr;
}

Alarm* StandingOfProbe(Body& body, AlarmKind kind, ProbeId probe) {
  if (!body.Stands(kind)) return nullptr;
  for (Alarm& alarm : body.alarms) {
    if (alarm.kind == kind && alarm.probe == probe && !alarm.over) return &alarm;
  }
  return nullptr;
}

Life LifeOf(const Alarm& alarm) {
  if (alarm.over) return IsSettled(alarm) ? Life::kNormal : Life::kReturned;
  if (alarm.aside_until) return Life::kShelved;
  if (alarm.suppressed) return Life::kSuppressed;
  return alarm.taken ? Life::kAcknowledged : Life::kUnacknowledged;
}

Life LifeOf(Body& body, AlarmKind kind, CaveId cave) {
  if (const Alarm* const standing = Standing(body, kind, cave)) return LifeOf(*standing);
  const auto found = body.caves.find(cave);
  if (found != body.caves.end() && std::ranges::count(found->second.out_of_service, kind) > 0) {
    return Life::kOutOfService;
  }
  return IsQuiet(body, kind, cave, Severity::kAct, body.now) ? Life::kSuppressed : Life::kNormal;
}

bool MayRaise(const Body& body, AlarmKind kind, CaveId cave, Severity severity, Instant at) {
  const auto found = body.caves.find(cave);
  if (found != body.caves.end() && std::ranges::count(found->second.out_of_service, kind) > 0) return false;
  if (severity < Severity::kUrgent && IsToldByAnother(body, kind, cave, severity)) return false;
  // The first step against gas is to open it.
  if (kind == AlarmKind::kDoorOpen && GasStandsIn(body, cave)) return false;
  if (IsAskedAlready(body, kind, cave, severity)) return false;
  return !IsQuiet(body, kind, cave, severity, at);
}

void Raise(Body& body, Alarm alarm, Instant at, Decisions& out) {
  alarm.raised = at;
  alarm.cause = CauseOf(body, alarm.kind, alarm.cave, at);
  alarm.id = Name(alarm);
  body.alarms.push_back(std::move(alarm));
  ListStanding(body);
  Tell(body, Decision::Change::kRaised, body.alarms.back(), at, out);
  QuietWhatItTells(body, body.alarms.back(), at, out);
}

void Worsen(Body& body, Alarm& alarm, Severity severity, Instant at, Decisions& out) {
  if (!May(alarm, LifeEvent::kWorsen)) return;
  // What is quiet by design stays so below urgent.
  alarm.severity = severity;
  const Alarm* const teller = TellerOf(body, alarm);
  // What told of the lesser thing does not tell of this.
  const bool outgrown = alarm.Folded() && teller == nullptr;
  const bool stays_quiet =
      alarm.suppressed && !outgrown &&
      (severity < Severity::kUrgent || (teller != nullptr && teller->severity >= Severity::kUrgent));
  alarm.taken.reset();
  alarm.aside_until.reset();
  if (stays_quiet) return;  // it asks when that ends
  alarm.suppressed = false;
  alarm.told_by.clear();
  Tell(body, Decision::Change::kRaisedSeverity, alarm, at, out);
  QuietWhatItTells(body, alarm, at, out);
}

void End(Body& body, Alarm& alarm, Instant at, Decisions& out, Ending ending) {
  if (!May(alarm, LifeEvent::kReturn)) return;
  alarm.over = at;
  alarm.ending = ending;
  ListStanding(body);
  alarm.aside_until.reset();
  alarm.inside_since.reset();
  alarm.suppressed = false;
  RememberIllness(body, alarm, at);
  Tell(body, Decision::Change::kOver, alarm, at, out);
  DropSettled(body);
}

void Take(Body& body, const std::string& id, Instant tapped, Instant at, Decisions& out) {
  Alarm* const alarm = Find(body, id);
  // The first to take it counts; one that is gone needs no taking.
  if (!alarm || alarm->taken || !May(*alarm, LifeEvent::kTake)) return;
  // Who said so without reception had seen the lesser thing, and does not know of this.
  if (!alarm->over && tapped < alarm->asked) return;
  alarm->taken = at;
  alarm->aside_until.reset();
  Tell(body, Decision::Change::kTaken, *alarm, at, out);
  DropSettled(body);
}

void SetAside(Body& body, const std::string& id, Instant until, Instant at, Decisions& out) {
  Alarm* const alarm = Find(body, id);
  if (!alarm || until <= at || !May(*alarm, LifeEvent::kShelve)) return;
  alarm->aside_until = until;
  Tell(body, Decision::Change::kSetAside, *alarm, at, out);
}

void BringBack(Body& body, Instant at, Decisions& out) {
  for (Alarm& alarm : body.alarms) {
    if (!alarm.aside_until || *alarm.aside_until > at || !May(alarm, LifeEvent::kUnshelve)) continue;
    alarm.aside_until.reset();
    Tell(body, alarm.suppressed ? Decision::Change::kQuieted : Decision::Change::kBack, alarm, at, out);
  }
}

void Suppress(Body& body, Alarm& alarm, Instant at, Decisions& out) {
  // Set aside it is quiet already, and stays so when that time is over.
  if (alarm.aside_until) {
    alarm.suppressed = true;
    return;
  }
  if (!May(alarm, LifeEvent::kSuppress)) return;
  alarm.suppressed = true;
  Tell(body, Decision::Change::kQuieted, alarm, at, out);
}

void Unsuppress(Body& body, Alarm& alarm, Instant at, Decisions& out) {
  if (alarm.aside_until) {
    alarm.suppressed = false;
    return;
  }
  if (!May(alarm, LifeEvent::kUnsuppress)) return;
  alarm.suppressed = false;
  // Of the plant nothing but what told more of the same event quiets: whoever was told of it knows. Who has taken it
  // knows as well.
  const bool stays = alarm.kind == AlarmKind::kPlantWeak || alarm.taken;
  Tell(body, stays ? Decision::Change::kStays : Decision::Change::kBack, alarm, at, out);
}

void Follow(Body& body, const Finding& found, Millis& back, Instant at, Decisions& out) {
  Alarm* const standing =
      found.probe ? StandingOfProbe(body, found.kind, *found.probe) : Standing(body, found.kind, found.cave);
  if (!standing) {
    back = Millis{0};
    if (!found.severity || !MayRaise(body, found.kind, found.cave, *found.severity, at)) return;
    Alarm alarm;
    alarm.kind = found.kind;
    alarm.severity = *found.severity;
    alarm.cave = found.cave;
    alarm.probe = found.probe;
    alarm.since = found.since;
    alarm.value = found.value;
    alarm.extreme = found.extreme;
    alarm.why = found.why;
    alarm.band = found.band;
    alarm.wheels = found.wheels;
    alarm.said = found.said;
    return Raise(body, std::move(alarm), at, out);
  }
  standing->value = found.value;
  standing->extreme = found.extreme;
  if (!found.said.empty()) standing->said = found.said;
  if (found.severity && *found.severity > standing->severity) {
    standing->why = found.why;
    Worsen(body, *standing, *found.severity, at, out);
  }
  back = found.back ? back + found.every : Millis{0};
  if (found.back && back >= found.off_after) {
    if (back > found.every) standing->back_since = at - back;
    back = Millis{0};
    End(body, *standing, at, out);
  }
}

}  // namespace rindwatch::rules::watch
