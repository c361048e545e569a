#include "tests/bench/alarms/verdict.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>

namespace rindwatch::bench {

using namespace rules;
using std::chrono::days;
using std::chrono::minutes;

namespace {

constexpr CaveId kFridge = 1;

std::shared_ptr<const Plan> PlanOf(std::string id, int hardiness) {
  Stage stage;
  stage.name = "ripening";
  stage.state = WheelState::kRipening;
  stage.temperature_band = Figure{kColdLimit, kLimit, "invented"};
  stage.humidity_band = Figure{75, 95, "invented"};
  Part part;
  part.stages.push_back(std::move(stage));
  Plan plan;
  plan.id = std::move(id);
  plan.hardiness = hardiness;
  plan.parts.push_back(std::move(part));
  return std::make_shared<const Plan>(std::move(plan));
}

class Player {
 public:
  Player(const Course& course, bool both, const OwnSettings& own) : both_(both), course_(course) {
    verdict.trouble = course.trouble;
    verdict.seed = course.seed;
    verdict.begins = course.begins;
    Hear(Step(state_, CaveGiven{kFridge, {}, DayTurn{}, Figure{kColdLimit, kLimit, "typed in"}, {}, own}, at_));
    Lay(1, 250, 0);
    Lay(2, 2000, 2);
    Lay(3, 5000, 2);
    for (const ProbeId probe : {1, 2}) {
      if (probe == 2 && !both_) break;
      Hear(Step(state_, ChannelHung{probe * 10 + 1, probe, ChannelKind::kTemperature, kFridge}, at_));
      Hear(Step(state_, ChannelHung{probe * 10 + 2, probe, ChannelKind::kHumidity, kFridge}, at_));
    }
  }

  Verdict verdict;
  std::size_t readings = 0;

  void Play() {
    for (minute_ = 0; minute_ < static_cast<int>(course_.minutes.size()); ++minute_) {
      at_ += minutes{1};
      const Minute& minute = course_.minutes[static_cast<std::size_t>(minute_)];
      Say(11, minute.temperature);
      Say(12, minute.humidity);
      if (both_) {
        Say(21, minute.second_temperature);
        Say(22, minute.second_humidity);
      }
      if (minute_ % 60 == 0) Hear(Advance(state_, at_));
      if (minute_ > 1440 && minute_ % 30 == 0) Compare(minute);
    }
    if (compared_) verdict.wrong_by = std::sqrt(squares_ / compared_);
  }

 private:
  void Lay(WheelId id, double grams, int hardiness) {
    WheelHistory history;
    history.plans.push_back({PlanOf("plan " + std::to_string(hardiness), hardiness), at_ - days{5}, "p"});
    StartEvent made{};
    made.id = "s";
    made.kind = StartKind::kMade;
    made.day = DayTurn{}.DayOf(at_) - days{5};
    made.known_from = at_ - days{5};
    history.starts.push_back(made);
    history.entered = at_ - days{5};
    Hear(Step(state_, WheelGiven{id, kFridge, std::move(history), Grams{grams}}, at_));
  }
  void Say(ChannelId channel, std::int16_t hundredths) {
    if (hundredths == Minute::kNothing) return;
    Reading reading;
    reading.channel = channel;
    reading.measured_at = reading.received_at = at_;
    reading.milli = hundredths * 10;
    reading.marks = With(0, Mark::kLive);
    ++readings;
    Hear(Step(state_, reading, at_));
  }
  void Hear(std::vector<Decision> decisions) {
    for (Decision& decision : decisions) {
      const auto change = decision.change;
      if (change != Decision::Change::kRaised && change != Decision::Change::kRaisedSeverity) continue;
      const int minute = static_cast<int>((decision.at - begin_) / minutes{1}) - 1;
      Note(decision.alarm, minute);
      verdict.rings.push_back({minute, std::move(decision)});
    }
  }
  // The forecasts of an act ring against what the cores did.
  void Note(const Alarm& alarm, int minute) {
    if (!course_.begins || minute < *course_.begins || alarm.kind != AlarmKind::kTooWarm) return;
    for (const Matter& matter : alarm.matters) {
      if (matter.soonest == Millis{0} || matter.IsFar()) continue;
      const int wheel = static_cast<int>(matter.wheels.front()) - 1;
      Outcome outcome{minute, static_cast<double>(matter.soonest / minutes{1}), {}, {}};
      if (matter.latest) outcome.latest = static_cast<double>(*matter.latest / minutes{1});
      for (int m = minute; m < static_cast<int>(course_.minutes.size()); ++m) {
        if (course_.minutes[static_cast<std::size_t>(m)].cores[wheel] <= kLimit * 100) continue;
        outcome.came = m - minute;
        break;
      }
      verdict.outcomes.push_back(outcome);
    }
  }
  void Compare(const Minute& minute) {
    for (const WheelsView& wheels : state_.View(kFridge, at_).wheels) {
      if (wheels.settling || wheels.wheels.front() != 1) continue;
      const double off = wheels.core - minute.cores[0] / 100.0;
      squares_ += off * off;
      ++compared_;
    }
  }

  bool both_;
  const Course& course_;
  Instant begin_ = std::chrono::sys_days{std::chrono::year{2026} / 3 / 2}, at_ = begin_;
  EngineState state_;
  int minute_ = 0;
  double squares_ = 0;
  int compared_ = 0;
};

}  // namespace

Replayed Judge(const Course& course, bool both, const OwnSettings& own) {
  const std::clock_t begin = std::clock();
  Player player(course, both, own);
  player.Play();
  // Of the processor, for other work may go on beside it.
  const double took = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  for (int wheel = 0; wheel < Minute::kWheels; ++wheel) {
    for (int m = course.begins.value_or(1440); m < static_cast<int>(course.minutes.size()); ++m) {
      if (course.minutes[static_cast<std::size_t>(m)].cores[wheel] <= kLimit * 100) continue;
      player.verdict.leaves[wheel] = m;
      break;
    }
  }
  return {std::move(player.verdict), player.readings, took};
}

std::optional<int> FirstRing(const Verdict& verdict, std::vector<AlarmKind> kinds, Severity severity, int from) {
  for (const Ring& ring : verdict.rings) {
    const Alarm& alarm = ring.decision.alarm;
    if (ring.at >= from && alarm.severity >= severity && std::ranges::count(kinds, alarm.kind) > 0) return ring.at;
  }
  return std::nullopt;
}

}  // namespace rindwatch::bench
