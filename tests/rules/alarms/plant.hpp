// Air as the plant of an invented fridge makes it, and a fridge in it whose settings are the usual ones.
#pragma once

#include <cmath>

#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {

inline double Minutes(Millis since) { return static_cast<double>(since / minutes{1}); }

// A plant's saw: 12.1 to 12.9 in half an hour, eight minutes of it falling.
inline double Saw(Millis since, double fall_minutes = 8) {
  const double within = std::fmod(Minutes(since), 30);
  const double up = (within - fall_minutes) / (30 - fall_minutes);
  return within < fall_minutes ? 12.9 - 0.8 * within / fall_minutes : 12.1 + 0.8 * up;
}
inline double UsualSaw(Millis since) { return Saw(since); }

// Never the same twice, as air is.
inline Scene::Course Lively(double mean) {
  return [mean](Millis since) { return mean + 0.3 * std::sin(Minutes(since) / 7) + 0.1 * std::sin(Minutes(since)); };
}

inline Scene Fridge(double grams = 2000) {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), grams).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(UsualSaw).Humidity(Lively(85));
  return scene;
}

}  // namespace rindwatch::rules
