#include "rules/alarms/lifecycle.hpp"

#include <algorithm>

namespace rindwatch::rules::watch {
namespace {

std::string Name(const Alarm& alarm) {
  std::string name{ToText(alarm.kind)};
  std::ranges::replace(name, ' ', '-');
  return name + "-" + std::to_string(alarm.probe.value_or(alarm.cave)) + "-" + std::to_string(ToMillis(alarm.raised));
}

Alarm* Find(Body& body, const std::string& id) {
  const auto found = std::ranges::find(body.alarms, id, &Alarm::id);
  return found == body.alarms.end() ? nullptr : &*found;
}

void Tell(Body& body, Decision::Change change, Alarm& alarm, Instant at, Decisions& out) {
  if (body.found_later) alarm.found_later = true;
  out.push_back({change, at, alarm});
}

void DropSettled(Body& body) {
  std::erase_if(body.alarms, [](const Alarm& alarm) { return alarm.taken && alarm.over; });
}

}  // namespace

Alarm* Standing(Body& body, AlarmKind kind, CaveId cave) {
  for (Alarm& alarm : body.alarms) {
    if (alarm.kind == kind && alarm.cave == cave && !alarm.over) return &alarm;
  }
  return nullptr;
}

Alarm* StandingSilence(Body& body, ProbeId probe) {
  for (Alarm& alarm : body.alarms) {
    if (alarm.kind == AlarmKind::kProbeSilent && alarm.probe == probe && !alarm.over) return &alarm;
  }
  return nullptr;
}

void Raise(Body& body, Alarm alarm, Instant at, Decisions& out) {
  alarm.raised = at;
  alarm.id = Name(alarm);
  body.alarms.push_back(std::move(alarm));
  Tell(body, Decision::Change::kRaised, body.alarms.back(), at, out);
}

void Worsen(Body& body, Alarm& alarm, Severity severity, Instant at, Decisions& out) {
  alarm.severity = severity;
  alarm.taken.reset();
  alarm.aside_until.reset();
  Tell(body, Decision::Change::kRaisedSeverity, alarm, at, out);
}

void End(Body& body, Alarm& alarm, Instant at, Decisions& out) {
  alarm.over = at;
  alarm.aside_until.reset();
  Tell(body, Decision::Change::kOver, alarm, at, out);
  DropSettled(body);
}

void Take(Body& body, const std::string& id, Instant at, Decisions& out) {
  Alarm* const alarm = Find(body, id);
  if (!alarm || alarm->taken) return;  // the first to take it counts; one that is gone needs no taking
  alarm->taken = at;
  Tell(body, Decision::Change::kTaken, *alarm, at, out);
  DropSettled(body);
}

void SetAside(Body& body, const std::string& id, Instant until, Instant at, Decisions& out) {
  Alarm* const alarm = Find(body, id);
  if (!alarm || until <= at) return;
  alarm->aside_until = until;
  Tell(body, Decision::Change::kSetAside, *alarm, at, out);
}

void BringBack(Body& body, Instant at, Decisions& out) {
  for (Alarm& alarm : body.alarms) {
    if (!alarm.aside_until || *alarm.aside_until > at) continue;
    alarm.aside_until.reset();
    Tell(body, Decision::Change::kBack, alarm, at, out);
  }
}

}  // namespace rindwatch::rules::watch
