// What the engine costs over a year of 20 probes that speak each 30 seconds. Prints, never asserts. Invented air.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <memory>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "tests/bench/invented_air.hpp"

namespace rindwatch::bench {
namespace {

using rules::ChannelKind;
using rules::Instant;
using std::chrono::days;

std::shared_ptr<const rules::Plan> InventedPlan(int hardiness) {
  rules::Stage stage;
  stage.temperature_band = rules::Figure{10, 14.5, "invented"};
  stage.humidity_band = rules::Figure{78, 94, "invented"};
  rules::Part part;
  part.stages.push_back(std::move(stage));
  rules::Plan plan;
  plan.id = "invented " + std::to_string(hardiness);
  plan.hardiness = hardiness;
  plan.parts.push_back(std::move(part));
  return std::make_shared<const rules::Plan>(std::move(plan));
}

rules::EngineState Furnished(Instant begin) {
  rules::EngineState state;
  for (int cave = 1; cave <= kCaves; ++cave) {
    rules::Step(state, rules::CaveGiven{cave, {}, rules::DayTurn{}, {}, {}}, begin);
    for (const int hardiness : {0, 2}) {
      rules::WheelHistory history;
      history.plans.push_back({InventedPlan(hardiness), begin - days{9}, "p"});
      rules::StartEvent made{};
      made.id = "s";
      made.day = rules::DayTurn{}.DayOf(begin) - days{9};
      made.known_from = begin - days{9};
      history.starts.push_back(made);
      history.entered = begin - days{9};
      rules::Step(
          state,
          rules::WheelGiven{cave * 10 + hardiness, cave, std::move(history), rules::Grams{hardiness ? 2000.0 : 250.0}},
          begin);
    }
  }
  for (int probe = 1; probe <= kProbes; ++probe) {
    const rules::CaveId cave = 1 + probe % kCaves;
    rules::Step(state, rules::ChannelHung{probe * 2 - 1, probe, ChannelKind::kTemperature, cave}, begin);
    rules::Step(state, rules::ChannelHung{probe * 2, probe, ChannelKind::kHumidity, cave}, begin);
  }
  return state;
}

rules::Reading ReadingOf(rules::ChannelId channel, double value, Instant at) {
  return {channel, at, at, std::llround(value * 1000), rules::TimeSource::kArrival, rules::With(0, rules::Mark::kLive)};
}

void MeasureEngine(int day_count, bool humid) {
  const Instant begin = rules::FromMillis(1'772'431'200'000);
  rules::EngineState state = Furnished(begin);
  Air air;
  std::size_t readings = 0, decisions = 0;
  double most = 0, first = 0;
  const auto turns = static_cast<std::int64_t>(days{day_count} / kEvery);
  const double began = Processor();
  double generating = 0;
  std::vector<rules::Reading> all;
  for (std::int64_t turn = 0; turn < turns; ++turn) {
    const double before = turn % 2880 == 0 ? Processor() : 0;
    const Instant at = begin + turn * kEvery;
    all.clear();
    for (int probe = 1; probe <= kProbes; ++probe) {
      all.push_back(ReadingOf(probe * 2 - 1, air.Temperature(turn, probe), at));
      if (humid) all.push_back(ReadingOf(probe * 2, air.Humidity(turn, probe), at));
    }
    if (turn % 2880 == 0) generating += (Processor() - before) * 2880;
    for (const rules::Reading& reading : all) decisions += rules::Step(state, reading, at).size();
    readings += all.size();
    if (turn == turns / 10) first = ResidentMegabytes();
    if (turn % 28'800 == 0) most = std::max(most, ResidentMegabytes());
  }
  const double took = Processor() - began;
  std::printf(
      "engine alone, %d probes each %d s, %d days, %s: %zu readings in %.1f s (%.1f s of it to invent them), %.2f "
      "million "
      "a second; memory %.1f MB after a tenth, %.1f MB at most; %zu decisions\n",
      kProbes, static_cast<int>(kEvery.count()), day_count, humid ? "temperature and humidity" : "temperature",
      readings, took, generating, static_cast<double>(readings) / took / 1e6, first, most, decisions);
}

}  // namespace
}  // namespace rindwatch::bench

int main() {
  rindwatch::bench::MeasureEngine(365, false);
  rindwatch::bench::MeasureEngine(365, true);
  return 0;
}
