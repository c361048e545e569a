// A cave on a stage: steps in, the trace of what was decided out, in hours and minutes since the scene began.
// Invented caves, wheels and probes.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"

namespace rindwatch::rules {

using Lines = std::vector<std::string>;

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

// One part counted from the make, one stage without an end.
std::shared_ptr<const Plan> PlanOf(std::string id, int hardiness, std::optional<Figure> temperature_band,
                                   std::optional<Figure> humidity_band);
// Kept at 12 to 13 degrees and 85 %, tolerated 10.5 to 14.5 and 80 to 90.
std::shared_ptr<const Plan> Pressed();
// Softer: 9.5 to 13.5 degrees, 88 to 98 %.
std::shared_ptr<const Plan> Bloomy();

class Scene {
 public:
  static constexpr CaveId kFridge = 1, kBox = 2, kRoom = 3;
  static constexpr ProbeId kProbe = 1;

  // The keeper's day begins at 04:00 UTC; the scene begins at 06:00.
  Scene();

  Scene& Give(CaveId cave, std::optional<CaveId> inside = {}, std::optional<Figure> temperature_limit = {},
              std::optional<Figure> humidity_limit = {});
  // Made `age_days` before the scene began.
  Scene& Lay(WheelId wheel, std::optional<CaveId> cave, std::shared_ptr<const Plan> plan, double grams = 0,
             int age_days = 10);
  // Probe n has channels 10 n + 1 (temperature) and 10 n + 2 (humidity).
  Scene& Hang(ProbeId probe, std::optional<CaveId> cave);
  Scene& HangChannel(ChannelId channel, ProbeId probe, ChannelKind kind, std::optional<CaveId> cave);

  // From now on the probes say this, by the time since the scene began.
  using Course = std::function<double(Millis)>;
  Scene& Temperature(Course course, ProbeId probe = kProbe);
  Scene& Temperature(double degrees, ProbeId probe = kProbe);
  Scene& Humidity(Course course, ProbeId probe = kProbe);
  Scene& Humidity(double percent, ProbeId probe = kProbe);
  Scene& Watts(Course course, ProbeId probe = kProbe);  // of its channel 10 n + 3, hung as the plant's power
  Scene& Silent(ProbeId probe = kProbe);                // says nothing, until it is given a course again

  // Courses of a scene stand still and step: excursions are given all the time there is and a probe may repeat itself,
  // unless a scene is about that.
  OwnSettings own = {{"excursion: turns within, first days", 480},
                     {"excursion: lasts, first days", 720},
                     {"stuck: temperature, first days", 20160},
                     {"stuck: humidity, first days", 20160}};

  // Lets time pass, a reading of every channel each `interval`.
  Scene& Run(Millis span);
  Scene& Every(Millis interval);
  // Lets time pass without any input.
  Scene& Wait(Millis span);
  Scene& Say(ChannelId channel, double value, Marks marks = With(0, Mark::kLive));
  Scene& Take(const Input& input);
  Scene& TakeAlarm(AlarmKind kind);

  Millis Since() const { return now_ - begin_; }
  Instant Now() const { return now_; }
  Instant At(Millis since) const { return begin_ + since; }
  CaveView View(CaveId cave = kFridge) const { return state.View(cave, now_); }
  // "1:30 too warm raised watch"; empties what was told.
  std::vector<std::string> Told();
  std::vector<Decision> decisions;
  EngineState state;
  // Called after each input; a test can swap the state for its own copy there.
  std::function<void(Scene&)> after_input = [](Scene&) {};

 private:
  struct Voice {
    ChannelId channel;
    Course course;
  };
  void Hear(std::vector<Decision> more);
  void SetVoice(ChannelId channel, Course course);

  Instant begin_, now_;
  Millis interval_ = minutes{1};
  std::vector<Voice> voices_;
};

}  // namespace rindwatch::rules
