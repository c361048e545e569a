// A day and a half of an invented fridge, as a list of things that happen: readings each ten minutes, a door left
// ajar, a probe that falls silent, dry air, and what the keeper does meanwhile.
#pragma once

#include <algorithm>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "tests/daemon/house/household.hpp"

namespace rindwatch::testing {

struct Happening {
  rules::Millis at;  // from the Thursday's morning
  std::function<void(Household&)> what;
};

inline std::string AlarmOf(const Household& house, rules::AlarmKind kind) {
  for (const rules::Alarm& alarm : const_cast<Household&>(house).TheWatch().Engine().Alarms()) {
    if (alarm.kind == kind) return alarm.id;
  }
  throw std::runtime_error("nothing rings");
}

// The air after `at`; none while the probe is silent.
inline std::optional<std::pair<double, double>> AirAt(rules::Millis at) {
  if (at >= 14h && at < 17h) return std::nullopt;
  const double temperature = at >= 3h && at < 9h ? 18.0 : 12.5;
  const double humidity = at >= 20h && at < 28h ? 70.0 : 85.0;
  // Some life in it, the same each time.
  const double wave = static_cast<double>((at / 10min) % 7) * 0.05;
  return std::pair{temperature + wave, humidity - wave};
}

inline std::vector<Happening> DayAndAHalf() {
  std::vector<Happening> day;
  const auto act = [&day](rules::Millis at, const char* kind, std::function<json::object(Household&)> fields) {
    const auto number = 1000 + day.size() * 10;
    day.push_back({at, [kind, fields, number](Household& house) {
                     house.SetActs(number);
                     house.Do(kind, fields(house));
                   }});
    return IdOf(number + 1);
  };
  act(0min, "probe", [](auto&) { return AirProbe("Fridge air", "fridge/air", NewCave("fridge")); });
  act(1min, "enter", [](auto&) { return InTheBox(PressedWheels(2, InCave(1), 5), 2); });
  const auto wash = act(61min, "care", [](auto&) { return Care({1, 2}, {"wash"}); });
  act(72min, "undo", [wash](auto&) { return json::object{{"of", wash}}; });
  act(6h + 1min, "take", [](Household& house) {
    return json::object{{"alarm", AlarmOf(house, rules::AlarmKind::kTooWarm)}};
  });
  act(6h + 2min, "called", [](Household& house) {
    return json::object{{"alarm", AlarmOf(house, rules::AlarmKind::kTooWarm)}, {"what", "door"}};
  });
  const auto limits = act(11h + 1min, "limits", [](auto&) {
    return json::object{{"cave", 1}, {"temperature", {{"low", 10}, {"high", 15}}}};
  });
  act(12h + 1min, "undo", [limits](auto&) { return json::object{{"of", limits}}; });
  act(12h + 2min, "gone", [](auto&) { return json::object{{"wheels", Ids({2})}, {"how", "eaten"}}; });
  act(23h + 1min, "aside", [](Household& house) {
    return json::object{{"alarm", AlarmOf(house, rules::AlarmKind::kTooDry)}, {"until", ToMillis(house.Now() + 30min)}};
  });
  for (rules::Millis at = 10min; at <= 36h; at += 10min) {
    const auto air = AirAt(at);
    if (air) day.push_back({at, [air](Household& house) { house.Reads(air->first, air->second); }});
  }
  std::ranges::stable_sort(day, {}, &Happening::at);
  return day;
}

// Lives the day in one house or, killed, in several after one another.
class Living {
 public:
  explicit Living(std::string database) : database_(std::move(database)) { Start(kThursday); }

  Household& House() { return *house_; }
  void Live(const Happening& happening) {
    house_->StepTo(kThursday + happening.at);
    happening.what(*house_);
  }
  // Ends without a word and begins again after `pause`.
  void Kill(rules::Millis pause = 0ms) {
    const rules::Instant now = house_->Now();
    house_.reset();
    Start(now + pause);
  }
  void StopAndStart() {
    const rules::Instant now = house_->Now();
    house_->End();
    house_.reset();
    Start(now);
  }

 private:
  void Start(rules::Instant now) {
    house_ = std::make_unique<Household>(database_, now);
    house_->Begin();
  }

  std::string database_;
  std::unique_ptr<Household> house_;
};

// The lines of a journal but for what only the daemon's own coming and going says, each as one text.
inline std::vector<std::string> Told(const std::vector<JournalLine>& journal) {
  std::vector<std::string> told;
  for (const JournalLine& line : journal) {
    if (line.kind == "started" || line.kind == "stopped") continue;
    std::string text = rules::ToText(line.at) + " " + line.kind + " " + line.id + " " + line.body + " " + line.given +
                       " " + line.answer + (line.late_entry ? " late" : "") + " cave " +
                       std::to_string(line.cave.value_or(0)) + " wheels";
    for (const rules::WheelId wheel : line.wheels) text += " " + std::to_string(wheel);
    told.push_back(std::move(text));
  }
  return told;
}

}  // namespace rindwatch::testing
