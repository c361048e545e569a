#include "tests/bench/alarms/course.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>

#include "sensors/simulated/fridge.hpp"

namespace rindwatch::bench {

using namespace sensors::simulated;
using rules::ChannelKind;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

constexpr seconds kDay = hours{24};
constexpr const char *kProbe = "upper", *kSecond = "lower";

WheelIn WheelOf(const char* name, double radius, double height, double activity, double free_share, double breath) {
  return {WheelSpec{name, {.radius = radius, .height = height}, {}, {activity, free_share, breath}}, "", 12.3};
}

ProbeSpec ProbeOf(const char* name, Random& chance, double humidity_bias) {
  return {.name = name,
          .where = "",
          .channels = {{ChannelKind::kTemperature, minutes{3}, 0.03, 0.1, 0.15 * chance.Normal()},
                       {ChannelKind::kHumidity, seconds{40}, 0.25, 0.1, humidity_bias}},
          .on_mains = true};
}

void Plan(FridgeSpec& spec, seconds at, Mishap::Kind kind, std::optional<seconds> span, const char* subject = "") {
  spec.mishaps.push_back({at, {.kind = kind, .subject = subject, .span = span}});
}

seconds Whole(double count) { return seconds{static_cast<seconds::rep>(count)}; }

// Nothing is broken: heat waves, a door mostly open for 45 to 60 minutes each week, deliveries, radio that drops out.
void PlanRough(FridgeSpec& spec, Random& chance, int days) {
  for (int week = 0; week * 7 < days; ++week) {
    const seconds evening = kDay * (week * 7) + Whole(chance.Between(0, 7)) * kDay.count() + hours{18};
    Plan(spec, evening, Mishap::Kind::kDoorAjar, Whole(chance.Between(45, 60) * 60));
  }
  for (int day = 9; day < days; day += 17) {
    Plan(spec, kDay * day + hours{10} + Whole(chance.Between(0, 7200)), Mishap::Kind::kDelivery, {});
  }
  for (int day = 0; day < days; ++day) {
    if (chance.Uniform() < 0.6) {
      Plan(spec, kDay * day + Whole(chance.Between(0, 86400)), Mishap::Kind::kProbeSilent,
           Whole(chance.Between(4, 40) * 60), kProbe);
    }
  }
  for (const double at : {chance.Between(15, 35), chance.Between(50, 75)}) {
    Plan(spec, Whole(at * 86400), Mishap::Kind::kHeatWave, hours{72});
  }
}

seconds Lasts(Trouble trouble) {
  switch (trouble) {
    case Trouble::kQuiet:
    case Trouble::kRough:
      return kDay * 90;
    case Trouble::kIced:
      return kDay * 29;
    case Trouble::kDrifts:
      return kDay * 26;
    default:
      return kDay * 23;
  }
}

struct Planned {
  FridgeSpec spec;
  std::optional<seconds> begins;
};

Planned PlanOf(Trouble trouble, int seed) {
  // A stream of chance of its own for what goes wrong.
  Random chance{static_cast<std::uint64_t>(seed), 7};
  Planned planned;
  FridgeSpec& spec = planned.spec;
  spec.seed = static_cast<std::uint64_t>(seed);
  spec.begins_celsius = 12.3;
  spec.begins_humidity = 86;
  spec.room.mean_celsius = chance.Between(18.5, 22);
  spec.plant.set_celsius = 12.6;
  spec.humidifier.fitted = true;
  // Boards, racks and the humidifier's water: a fridge in use is slower than an empty one.
  spec.cabinet.liner_heat = 45000;
  spec.cabinet.liner_area = 2.4;
  spec.cabinet.wall_loss = 1.35;
  spec.wheels = {WheelOf("250 g", 0.055, 0.0246, 0.965, 0.8, 1.0), WheelOf("2 kg", 0.1, 0.0595, 0.95, 0.25, 0.4),
                 WheelOf("5 kg", 0.125, 0.0952, 0.95, 0.25, 0.4)};
  spec.probes = {ProbeOf(kProbe, chance, chance.Between(-2, 2)), ProbeOf(kSecond, chance, chance.Between(-2, 2))};
  const seconds when = kDay * 20 + Whole(chance.Between(0, 86400));
  if (trouble != Trouble::kQuiet && trouble != Trouble::kRough) planned.begins = when;
  switch (trouble) {
    case Trouble::kQuiet:
      break;
    case Trouble::kRough:
      PlanRough(spec, chance, 90);
      break;
    case Trouble::kDead:
      Plan(spec, when, Mishap::Kind::kCompressorDead, {});
      break;
    case Trouble::kIced:
      Plan(spec, when, Mishap::Kind::kCoilIces, {});
      break;
    case Trouble::kDrifts:
      Plan(spec, when, Mishap::Kind::kThermostatDrifts, {});
      break;
    case Trouble::kPower:
      Plan(spec, when, Mishap::Kind::kPowerCut, hours{6});
      break;
    case Trouble::kStuck:
      Plan(spec, when, Mishap::Kind::kProbeStuck, hours{30}, kProbe);
      break;
    case Trouble::kWet:
      Plan(spec, when, Mishap::Kind::kProbeWet, hours{30}, kProbe);
      break;
    case Trouble::kWick:
      Plan(spec, when, Mishap::Kind::kWickDry, {});
      break;
    case Trouble::kSticks:
      Plan(spec, when, Mishap::Kind::kCompressorSticks, {});
      break;
  }
  return planned;
}

std::int16_t Hundredths(double value) { return static_cast<std::int16_t>(std::lround(value * 100)); }

Course Simulate(Trouble trouble, int seed) {
  const Planned planned = PlanOf(trouble, seed);
  Course course{trouble, seed, {}, {}};
  if (planned.begins) course.begins = static_cast<int>(*planned.begins / minutes{1});
  Fridge fridge{planned.spec};
  const auto count = static_cast<std::size_t>(Lasts(trouble) / minutes{1});
  course.minutes.reserve(count);
  while (course.minutes.size() < count) {
    const Outcome outcome = fridge.Step(minutes{1});
    Minute minute;
    for (const ProbeReading& reading : outcome.readings) {
      const bool first = reading.probe == kProbe, warmth = reading.kind == ChannelKind::kTemperature;
      auto& into = first ? (warmth ? minute.temperature : minute.humidity)
                         : (warmth ? minute.second_temperature : minute.second_humidity);
      into = Hundredths(reading.value);
    }
    for (int wheel = 0; wheel < Minute::kWheels; ++wheel) {
      minute.cores[wheel] = Hundredths(outcome.truth.wheels[static_cast<std::size_t>(wheel)].core);
    }
    minute.door = Hundredths(outcome.truth.door);
    course.minutes.push_back(minute);
  }
  return course;
}

}  // namespace

const char* ToText(Trouble trouble) {
  switch (trouble) {
    case Trouble::kQuiet:
      return "quiet";
    case Trouble::kRough:
      return "rough";
    case Trouble::kDead:
      return "compressor dead";
    case Trouble::kIced:
      return "coil iced";
    case Trouble::kDrifts:
      return "thermostat drifts";
    case Trouble::kPower:
      return "power cut";
    case Trouble::kStuck:
      return "probe stuck";
    case Trouble::kWet:
      return "probe wet";
    case Trouble::kWick:
      return "wick dry";
    case Trouble::kSticks:
      return "compressor sticks";
  }
  return "";
}

std::optional<Trouble> TroubleFrom(std::string_view text) {
  for (const Trouble trouble : kTroubles) {
    if (ToText(trouble) == text) return trouble;
  }
  return std::nullopt;
}

Course CourseOf(Trouble trouble, int seed, const std::string& folder) {
  const auto path = std::filesystem::path(folder) / (std::string(ToText(trouble)) + " " + std::to_string(seed));
  Course course{trouble, seed, {}, {}};
  if (std::ifstream file{path, std::ios::binary}) {
    std::int64_t begins = 0, count = 0;
    file.read(reinterpret_cast<char*>(&begins), sizeof begins).read(reinterpret_cast<char*>(&count), sizeof count);
    if (begins >= 0) course.begins = static_cast<int>(begins);
    course.minutes.resize(static_cast<std::size_t>(count));
    file.read(reinterpret_cast<char*>(course.minutes.data()), static_cast<std::streamsize>(count * sizeof(Minute)));
    if (file) return course;
  }
  course = Simulate(trouble, seed);
  std::filesystem::create_directories(folder);
  std::ofstream file{path, std::ios::binary};
  const std::int64_t begins = course.begins.value_or(-1), count = static_cast<std::int64_t>(course.minutes.size());
  file.write(reinterpret_cast<const char*>(&begins), sizeof begins)
      .write(reinterpret_cast<const char*>(&count), sizeof count)
      .write(reinterpret_cast<const char*>(course.minutes.data()),
             static_cast<std::streamsize>(course.minutes.size() * sizeof(Minute)));
  return course;
}

}  // namespace rindwatch::bench
