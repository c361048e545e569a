#include "rules/alarms/steps.hpp"

#include "rules/alarms/stake.hpp"

namespace rindwatch::rules::watch {
namespace {

bool IsStep(const Alarm& alarm, AlarmKind kind) {
  return alarm.why == Why::kPlanStep && alarm.kind == kind && !alarm.over;
}

std::vector<std::string> StepsOf(const Body& body, AlarmKind kind, CaveId cave) {
  std::vector<std::string> steps;
  if (!body.Stands(kind)) return steps;
  for (const Alarm& alarm : body.alarms) {
    if (IsStep(alarm, kind) && alarm.cave == cave) steps.push_back(alarm.id);
  }
  return steps;
}

// Those of which a step is told already, there or in what it stands in, are not told again.
std::vector<WheelId> NotYetTold(const Body& body, AlarmKind kind, std::vector<WheelId> wheels) {
  std::erase_if(wheels, [&](WheelId wheel) {
    return std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
      return IsStep(alarm, kind) && std::ranges::count(alarm.wheels, wheel) > 0;
    });
  });
  return wheels;
}

// Whether the wheel came to ask for something else since the band of its cave moved.
bool HasMoved(const Body& body, WheelId id, ChannelKind channel, Instant moved) {
  constexpr Millis kAMomentBefore = minutes{2};
  const auto found = body.wheels.find(id);
  if (found == body.wheels.end()) return false;
  Wheel before = found->second;
  LookUp(body, before, moved - kAMomentBefore);
  return before.Band(channel) != found->second.Band(channel);
}

bool WasToldSince(const Body& body, const Judged& judged, Instant moved) {
  return std::ranges::any_of(body.alarms, [&](const Alarm& alarm) {
    return IsStep(alarm, judged.Kind()) && alarm.cave == judged.cave && alarm.raised >= moved;
  });
}

// The wheels that ask for what the air is not: those whose own band has moved since one is forgiven, also within that
// of their cave; where none has, as one was laid in or got a band of its own, all of them, once.
std::vector<WheelId> Asking(const Body& body, const Judged& judged, const Side& side) {
  const AirWatch& watch = body.caves.at(judged.cave).Air(judged.channel);
  const std::vector<WheelId> touched =
      NotYetTold(body, judged.Kind(), Touched(judged.stake, judged.sign, side.extreme));
  std::vector<WheelId> asking;
  for (const WheelId wheel : touched) {
    if (HasMoved(body, wheel, judged.channel, watch.forgiven)) asking.push_back(wheel);
  }
  return asking.empty() && !WasToldSince(body, judged, watch.moved) ? touched : asking;
}

void TellStep(Body& body, const Judged& judged, const Ladder& ladder, const Side& side, std::vector<StepWatch>& steps,
              Decisions& out) {
  // While something fails there the air is not as it was.
  if (Standing(body, judged.Kind(), judged.cave)) return;
  const bool long_enough = side.edge.beyond >= ladder.watch_after && ladder.Beyond(judged.Recent(), ladder.edge);
  if (!long_enough || !MayRaise(body, judged.Kind(), judged.cave, Severity::kWatch, judged.at)) return;
  Alarm alarm;
  alarm.kind = judged.Kind();
  alarm.severity = Severity::kWatch;
  alarm.why = Why::kPlanStep;
  alarm.cave = judged.cave;
  alarm.since = side.since;
  alarm.value = judged.Mean();
  alarm.extreme = side.extreme;
  alarm.band = judged.stake.band;
  alarm.wheels = Asking(body, judged, side);
  if (alarm.wheels.empty()) return;
  Raise(body, std::move(alarm), judged.at, out);
  steps.push_back({body.alarms.back().id, {}});
}

// What it came to be while the limits of before were forgiven is judged in full from here on, as one that failed.
void NoStepAnyMore(Body& body, const Judged& judged, Alarm& step, Decisions& out) {
  if (Alarm* const standing = Standing(body, judged.Kind(), judged.cave)) {
    AddTouched(*standing, step.wheels);
    return End(body, step, judged.at, out, Ending::kAskedOtherwise);
  }
  step.why = judged.ready ? Why::kReadyCheese : Why::kBand;
}

// What the air is asked for by those of which the step was told: where the band follows others since, more delicate
// ones that were laid in or came to another stage, they ask for what they did.
Figure AskedBy(const Body& body, const Judged& judged, const Alarm& step) {
  Figure asked = *judged.stake.band;
  if (body.caves.at(judged.cave).Limit(judged.channel)) return asked;
  for (const Stake::Asking& asking : judged.stake.wheels) {
    const bool of_step = std::ranges::count(step.wheels, asking.wheel) > 0;
    if (!of_step || !asking.band) continue;
    if (judged.sign > 0 ? asking.band->high < asked.high : asking.band->low > asked.low) asked = *asking.band;
  }
  return asked;
}

bool AnyLiesHere(const Stake& stake, const std::vector<WheelId>& wheels) {
  return std::ranges::any_of(stake.wheels,
                             [&](const Stake::Asking& asking) { return std::ranges::count(wheels, asking.wheel) > 0; });
}

// How far it went while something failed is told by that.
void NoteExtreme(const Judged& judged, const Ladder& ladder, Alarm& step) {
  const Ladder fails = judged.Limits();
  if (fails.Beyond(judged.Mean(), fails.edge) || !ladder.Beyond(judged.Mean(), ladder.edge)) return;
  if (ladder.Beyond(judged.Mean(), step.extreme)) step.extreme = judged.Mean();
}

void FollowStep(Body& body, const Judged& judged, Alarm& step, WayBack& way, Decisions& out) {
  step.judged += kMinute;
  const Figure band = AskedBy(body, judged, step);
  const Ladder ladder = judged.LimitsBy(band);
  const bool lies_here = AnyLiesHere(judged.stake, step.wheels);
  const bool asked = ladder.Beyond(judged.Mean(), ladder.edge);
  const bool of_cave = SameLimits(band, *judged.stake.band);
  if (!judged.before && of_cave && lies_here && asked) return NoStepAnyMore(body, judged, step, out);
  const bool moved = step.band && !SameLimits(*step.band, band);
  // The air is as it was, and what lies here has come to ask for something else again, or lies elsewhere.
  if (!lies_here || (moved && !asked)) return End(body, step, judged.at, out, Ending::kAskedOtherwise);
  step.band = band;
  NoteExtreme(judged, ladder, step);
  CountBack(judged, ladder, DeadbandOf(judged.channel, band, judged.settings), way, false);
  if (BackFor(way, judged.settings) >= Minutes(judged.settings.off_after)) EndBack(body, judged, way, step, out);
}

StepWatch& WatchOf(std::vector<StepWatch>& steps, const std::string& alarm) {
  const auto found = std::ranges::find(steps, alarm, &StepWatch::alarm);
  return found != steps.end() ? *found : steps.emplace_back(StepWatch{alarm, {}});
}

}  // namespace

void JudgeSteps(Body& body, const Judged& judged, Side& side, std::vector<StepWatch>& steps, Decisions& out) {
  const std::vector<std::string> standing = StepsOf(body, judged.Kind(), judged.cave);
  for (const std::string& id : standing) {
    // The end of one may move the others.
    const auto step = std::ranges::find(body.alarms, id, &Alarm::id);
    FollowStep(body, judged, *step, WatchOf(steps, id).way, out);
  }
  std::erase_if(steps, [&](const StepWatch& one) {
    const auto alarm = std::ranges::find(body.alarms, one.alarm, &Alarm::id);
    return alarm == body.alarms.end() || !IsStep(*alarm, alarm->kind);
  });
  if (!judged.before) {
    side = {};
    return;
  }
  const Ladder ladder = judged.OwnLimits();
  Count(ladder, side, judged.Mean(), judged.Deadband(), judged.at);
  TellStep(body, judged, ladder, side, steps, out);
}

void EndSteps(Body& body, AlarmKind kind, CaveId cave, Instant at, Decisions& out, Ending ending) {
  for (const std::string& id : StepsOf(body, kind, cave)) {
    End(body, *std::ranges::find(body.alarms, id, &Alarm::id), at, out, ending);
  }
}

}  // namespace rindwatch::rules::watch
