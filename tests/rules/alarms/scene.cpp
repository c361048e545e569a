#include "tests/rules/alarms/scene.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rindwatch::rules {

std::shared_ptr<const Plan> PlanOf(std::string id, int hardiness, std::optional<Figure> temperature_band,
                                   std::optional<Figure> humidity_band) {
  Stage stage;
  stage.name = "ripening";
  stage.state = WheelState::kRipening;
  stage.first_day = 1;
  stage.temperature_band = std::move(temperature_band);
  stage.humidity_band = std::move(humidity_band);
  Part part;
  part.stages.push_back(std::move(stage));
  Plan plan;
  plan.id = std::move(id);
  plan.hardiness = hardiness;
  plan.parts.push_back(std::move(part));
  return std::make_shared<const Plan>(std::move(plan));
}

std::shared_ptr<const Plan> Pressed() { return PlanOf("pressed", 2, Figure{10.5, 14.5, ""}, Figure{80, 90, ""}); }

std::shared_ptr<const Plan> Bloomy() { return PlanOf("bloomy", 0, Figure{9.5, 13.5, ""}, Figure{88, 98, ""}); }

Scene::Scene() : begin_(std::chrono::sys_days{std::chrono::year{2026} / 3 / 2} + hours{6}), now_(begin_) {}

Scene& Scene::Give(CaveId cave, std::optional<CaveId> inside, std::optional<Figure> temperature_limit,
                   std::optional<Figure> humidity_limit) {
  return Take(CaveGiven{cave, inside, DayTurn{}, std::move(temperature_limit), std::move(humidity_limit), own});
}

Scene& Scene::Lay(WheelId wheel, std::optional<CaveId> cave, std::shared_ptr<const Plan> plan, double grams,
                  int age_days) {
  WheelHistory history;
  history.plans.push_back({std::move(plan), begin_ - days{age_days}, "p"});
  StartEvent made{};
  made.id = "s";
  made.kind = StartKind::kMade;
  made.day = DayTurn{}.DayOf(begin_) - days{age_days};
  made.known_from = begin_ - days{age_days};
  history.starts.push_back(made);
  history.entered = begin_ - days{age_days};
  return Take(WheelGiven{wheel, cave, std::move(history), Grams{grams}});
}

Scene& Scene::Hang(ProbeId probe, std::optional<CaveId> cave) {
  HangChannel(probe * 10 + 1, probe, ChannelKind::kTemperature, cave);
  return HangChannel(probe * 10 + 2, probe, ChannelKind::kHumidity, cave);
}

Scene& Scene::HangChannel(ChannelId channel, ProbeId probe, ChannelKind kind, std::optional<CaveId> cave) {
  return Take(ChannelHung{channel, probe, kind, cave});
}

void Scene::SetVoice(ChannelId channel, Course course) {
  std::erase_if(voices_, [channel](const Voice& voice) { return voice.channel == channel; });
  if (course) voices_.push_back({channel, std::move(course)});
  std::ranges::sort(voices_, {}, &Voice::channel);
}

Scene& Scene::Temperature(Course course, ProbeId probe) {
  SetVoice(probe * 10 + 1, std::move(course));
  return *this;
}

Scene& Scene::Temperature(double degrees, ProbeId probe) {
  return Temperature([degrees](Millis) { return degrees; }, probe);
}

Scene& Scene::Humidity(Course course, ProbeId probe) {
  SetVoice(probe * 10 + 2, std::move(course));
  return *this;
}

Scene& Scene::Humidity(double percent, ProbeId probe) {
  return Humidity([percent](Millis) { return percent; }, probe);
}

Scene& Scene::Watts(Course course, ProbeId probe) {
  SetVoice(probe * 10 + 3, std::move(course));
  return *this;
}

Scene& Scene::Silent(ProbeId probe) {
  SetVoice(probe * 10 + 1, {});
  SetVoice(probe * 10 + 2, {});
  return *this;
}

Scene& Scene::Every(Millis interval) {
  interval_ = interval;
  return *this;
}

Scene& Scene::Run(Millis span) {
  const Instant end = now_ + span;
  while (now_ < end) {
    now_ = std::min(end, now_ + interval_);
    for (const Voice& voice : voices_) Say(voice.channel, voice.course(Since()));
  }
  Hear(Advance(state, now_));
  return *this;
}

Scene& Scene::Wait(Millis span) {
  now_ += span;
  Hear(Advance(state, now_));
  return *this;
}

Scene& Scene::Say(ChannelId channel, double value, Marks marks) {
  Reading reading;
  reading.channel = channel;
  reading.measured_at = reading.received_at = now_;
  reading.milli = std::llround(value * 1000);
  reading.marks = marks;
  return Take(reading);
}

Scene& Scene::Take(const Input& input) {
  Hear(Step(state, input, now_));
  after_input(*this);
  return *this;
}

Scene& Scene::TakeAlarm(AlarmKind kind) {
  for (const Alarm& alarm : state.Alarms()) {
    if (alarm.kind == kind && !alarm.taken) return Take(AlarmTaken{alarm.id});
  }
  return *this;
}

void Scene::Hear(std::vector<Decision> more) { decisions.insert(decisions.end(), more.begin(), more.end()); }

std::vector<std::string> Scene::Told() {
  std::vector<std::string> told;
  for (const Decision& decision : decisions) {
    const Millis since = decision.at - begin_;
    char clock[32];
    std::snprintf(clock, sizeof clock, "%d:%02d", static_cast<int>(since / hours{1}),
                  static_cast<int>(since % hours{1} / minutes{1}));
    std::string line = std::string{clock} + " " + std::string{ToText(decision.alarm.kind)} + " " +
                       std::string{ToText(decision.change)};
    const bool louder =
        decision.change == Decision::Change::kRaised || decision.change == Decision::Change::kRaisedSeverity;
    if (louder) line += " " + std::string{ToText(decision.alarm.severity)};
    if (decision.alarm.found_later) line += " (found later)";
    told.push_back(line);
  }
  decisions.clear();
  return told;
}

}  // namespace rindwatch::rules
