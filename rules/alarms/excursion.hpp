// An excursion: the air leaves what it usually does. Most turn back by themselves; how soon is learned, and one that
// does not is a failure long before any wheel has left its band.
#pragma once

#include <optional>

#include "rules/alarms/engine.hpp"
#include "rules/alarms/long_memory.hpp"
#include "rules/alarms/settings.hpp"
#include "rules/time.hpp"

namespace rindwatch::rules::watch {

class Excursion {
 public:
  // How far it goes and how it began, for naming it.
  struct Course {
    Instant since, peak_at;
    double began = 0, peak = 0, soon = 0;  // soon: after five minutes
    std::optional<Instant> turned;         // when it had first come back by enough
    double humidity_began = 0, humidity_far = 0;
    // Of the half-hour until eight minutes before it had left, and of the ten minutes in which it did; 0: not known.
    double humidity_before = 0, humidity_soon = 0;
    Instant high_until;  // more than half of its way lay ahead of it until then
    bool told = false;   // at some time of it
    double asked = 0;    // how far it had come when a keeper was asked after it; 0: nobody was
  };
  // How damp the air is: the mean that is judged, that of the last ten minutes, that of the half-hour until eight
  // minutes ago; 0: not known.
  struct Damp {
    double mean = 0, lately = 0, before = 0;
  };

  // Takes in the minute that ends at `at`: the 10-minute mean as beyond the usual (for the cold side turned round) and
  // the humidity of that time. Returns the course of an excursion that has just ended.
  std::optional<Course> Take(const Settings& settings, double beyond, const Damp& damp, Instant at);
  bool IsOpen() const { return open_; }
  const Course& Now() const { return course_; }
  // It goes up to a height that it has not had yet, and has done so for as long; not while it has turned.
  bool Rises(Millis as_long, Instant at) const { return open_ && !turned_ && at - waits_since_ >= as_long; }
  bool HasTurned() const { return turned_; }
  // Half of the way back lies behind it, and it goes on: somebody shut the door, or the plant has the better of it.
  bool ComesBack(const Settings& settings, Instant at) const;
  // It has lasted, or not turned, for longer than any that is known, and is not on its way back. `begun`: since when is
  // learned.
  bool IsTooLong(const Settings& settings, double turn_floor, Instant begun, Instant at) const;
  // As air from a room does.
  static bool CameAtOnce(const Settings& settings, const Course& course);
  // Enough days have passed to know how long one usually takes.
  static bool HasLearnedBy(const Settings& settings, Instant at, Instant begun);
  // What was learned of one that took less than four hours. One that was told may have been a door that somebody found
  // ajar, or the longest of what is usual here: it teaches only by a part of how long it took beyond that.
  void Learn(const Settings& settings, const Course& course, Instant ended);
  // It was told, so gravely at least. That stands, though the air may pause on its way (a coil that ices thaws a little
  // with each defrost), until half of the way back lies behind it.
  void Tell(Severity severity, double beyond);
  // A keeper was asked after it.
  void NoteAsked() {
    course_.told = true;
    course_.asked = course_.peak;
  }
  // What was asked after has come back by half of its way then, and goes on: a defrost on top of it that passes is no
  // door that was shut.
  bool IsAnswered(const Settings& settings, Instant at) const;
  std::optional<Severity> Told() const { return open_ ? told_ : std::nullopt; }
  // Of one that was told and came back only what rises again as far as opens an excursion is told.
  bool IsNews(const Settings& settings, double beyond) const;
  // Since when it is as it is: of what rises again since it was lowest.
  Instant Since() const { return came_back_ ? lowest_at_ : course_.since; }
  void Drop() { open_ = false; }
  // The limit has moved under the air: what lies beyond it now is no excursion, until it was seen inside.
  void Bar() { open_ = seen_inside_ = false; }

  template <class Archive>
  void Describe(Archive& archive) {
    Field(archive, open_);
    Field(archive, seen_inside_);
    Field(archive, turned_);
    Field(archive, waits_since_);
    Field(archive, low_);
    Field(archive, low_at_);
    int told = told_ ? static_cast<int>(*told_) : 0;
    Number(archive, told, 0, static_cast<int>(Severity::kUrgent));
    if (Archive::kReads) told_ = told > 0 ? std::optional(static_cast<Severity>(told)) : std::nullopt;
    Field(archive, told_peak_);
    Field(archive, came_back_);
    Field(archive, lowest_);
    Field(archive, lowest_at_);
    Field(archive, course_.since);
    Field(archive, course_.peak_at);
    Field(archive, course_.began);
    Field(archive, course_.peak);
    Field(archive, course_.soon);
    Field(archive, course_.turned);
    Field(archive, course_.humidity_began);
    Field(archive, course_.humidity_far);
    Field(archive, course_.humidity_before);
    Field(archive, course_.humidity_soon);
    Field(archive, course_.high_until);
    Field(archive, course_.told);
    Field(archive, course_.asked);
    for (Usual* usual : {&own_, &doors_}) {
      usual->turns.Describe(archive);
      usual->lasts.Describe(archive);
    }
  }

 private:
  // Whether half of the way from `peak` to where it is over lies behind it.
  static bool IsHalfBack(const Settings& settings, double peak, double now);
  void FollowBack(const Settings& settings, double beyond, Instant at);
  void FollowDamp(const Damp& damp, Instant at);

  bool open_ = false;
  bool seen_inside_ = false;  // only what was inside can leave
  bool turned_ = false;
  Instant waits_since_;  // since when it has not turned
  double low_ = 0;       // since the peak, in steps
  Instant low_at_;
  std::optional<Severity> told_;
  double told_peak_ = 0;    // since it was told
  bool came_back_ = false;  // after it was told
  double lowest_ = 0;       // since then, until it is told again
  Instant lowest_at_;
  Course course_;
  // Minutes, of what comes and goes by itself. A door stands open for as long as nobody comes by: of those there is
  // another memory, or a plant that fails would be given as long.
  struct Usual {
    DayMost turns, lasts;
  };
  // By how it began and how damp its air is.
  static bool IsOfDoor(const Settings& settings, const Course& course);
  Usual own_, doors_;
};

}  // namespace rindwatch::rules::watch
