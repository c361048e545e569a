// The simulated fridge: physics in steps, without thread, clock or network. It lives as long as its owner likes, is
// touched by one thread at a time, and copies as a value: a copy goes on exactly as the original would.
//
// Air, liner and evaporator each have a temperature and the water on them; wheels conduct in two directions; boxes
// have air of their own. Inside, time moves in whole seconds and wheels and probes in tens of seconds, counted from
// the start, so that the outcome does not depend on how the span is cut into steps. Heat and water are only ever
// moved: what crosses the border is in the ledger.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sensors/simulated/fridge_spec.hpp"

namespace rindwatch::sensors::simulated {

// What no probe can know.
struct Truth {
  struct InBox {
    std::string name;
    double celsius = 0, humidity = 0;  // %
    double wall_celsius = 0;
    double sweat = 0;  // kg of water on walls and lid
    Lid lid = Lid::kShut;
    bool operator==(const InBox&) const = default;
  };
  struct InWheel {
    std::string name, where;
    double core = 0, mean = 0, surface = 0;  // °C
    double grams = 0;
    double dew = 0;  // kg of water on the rind
    bool operator==(const InWheel&) const = default;
  };
  std::chrono::seconds at{0};
  double air = 0, humidity = 0, liner = 0, coil = 0;  // °C, %
  double liner_water = 0, coil_water = 0, frost = 0;  // kg
  double room = 0, room_humidity = 0;
  double door = 0;  // share of the opening that is free
  bool power = true, compressor_runs = false, defrosts = false;
  double electric = 0;  // W
  std::vector<InBox> boxes;
  std::vector<InWheel> wheels;
  bool operator==(const Truth&) const = default;
};

struct Outcome {
  std::vector<ProbeReading> readings;  // in the order of time, then of the probes
  Truth truth;                         // at the end of the step
};

// What crossed the fridge's border since the start. Heat counts from 0 °C; liquid water carries none.
struct Ledger {
  double heat = 0;   // J in: insulation, door, heater, fan, respiration and wheels put in, less the plant's
  double water = 0;  // kg in: with the room's air and with wheels, less what drained and what wheels took out
};

class Fridge {
 public:
  // Throws std::invalid_argument for a spec that contradicts itself: two things of one name, a place that is not there.
  explicit Fridge(FridgeSpec spec);

  // Any span from one second up; none or less does nothing.
  Outcome Step(std::chrono::seconds span);
  std::chrono::seconds Elapsed() const { return elapsed_; }
  const FridgeSpec& Spec() const { return spec_; }
  Truth Now() const;

  // Happens before the next second. Throws std::invalid_argument, naming what there is, if the subject is unknown;
  // nothing has changed then.
  void Do(const Mishap& mishap);
  // Does it when the time comes; at once if it is past. Throws as Do does, now.
  void Plan(std::chrono::seconds at, const Mishap& mishap);

  // A wheel comes in at its own temperature. Throws std::invalid_argument for an unknown place or a name that is in or
  // on its way.
  void PutWheel(const WheelIn& wheel);
  // The same when the time comes; at once if it is past. Throws as PutWheel does, now.
  void PlanWheel(std::chrono::seconds at, const WheelIn& wheel);
  // Throws std::invalid_argument if there is no such wheel.
  void TakeWheel(std::string_view name);

  // The balance: Energy() and Water() change by exactly what the ledger takes in, but for rounding.
  double Energy() const;  // J above 0 °C, vapour at its heat of evaporation
  double Water() const;   // kg: vapour, films, frost and all that the wheels weigh
  const Ledger& Border() const { return ledger_; }

 private:
  // A state that lasts until told otherwise or until its time is over.
  struct Lasting {
    bool on = false;
    std::optional<std::chrono::seconds> until;
    void Begin(std::chrono::seconds now, const std::optional<std::chrono::seconds>& span);
    void End() { *this = {}; }
    void Expire(std::chrono::seconds now);
  };
  // What sets in slowly and stays.
  struct Creeping {
    std::optional<std::chrono::seconds> from;
    std::chrono::seconds span{0};
    void Begin(std::chrono::seconds now, std::chrono::seconds lasts);
    double Share(std::chrono::seconds now) const;  // of it that has come, 0 to 1
  };
  // Air with wheels in it.
  struct Place {
    StillAir still;
    Wheel::Offer offer;
    double celsius_sum = 0, density_sum = 0;  // over the open interval

    // What its wheels gave to the air in that many ticks, J and kg.
    double HeatOwed(double ticks) const;
    double VapourOwed(double ticks) const;
  };
  struct Lying {
    Wheel wheel;
    std::size_t place;  // 0: the racks; n: box n - 1
  };
  struct Hung {
    Probe probe;
    std::size_t place;
    std::string wheel;  // the wheel it is stuck in; empty: none
    Lasting silence, stuck, wet;
    void Begin(Mishap::Kind kind, std::chrono::seconds now, const std::optional<std::chrono::seconds>& span);
    void End();
  };

  struct Departure {
    std::chrono::seconds at;
    std::string wheel;
  };

  void Tick();
  void DoWhatIsPlanned();
  void DoSlowly(const Mishap& mishap);
  void Deliver(std::chrono::seconds open_for);
  RoomAir RoomNow();
  double DoorNow(bool keeper_opens) const;
  void ExchangeWithRoom(const RoomAir& room);
  void ExchangeInside(const RoomAir& room, bool lids_lifted);
  void ExchangeWithWheels();
  double Ticks() const;  // of the open interval
  void OpenInterval();
  void CloseInterval();
  void LetProbesFollow(std::vector<ProbeReading>& out);

  AirNode& AirOf(std::size_t place) { return place == 0 ? air_ : boxes_[place - 1].air; }
  const AirNode& AirOf(std::size_t place) const { return place == 0 ? air_ : boxes_[place - 1].air; }
  std::optional<std::size_t> PlaceNamed(std::string_view name) const;
  const Lying* WheelNamed(std::string_view name) const;
  Hung* ProbeNamed(std::string_view name);
  void HangProbe(const ProbeSpec& probe, std::uint64_t stream);
  Surroundings AroundProbe(std::size_t place, const std::string& wheel) const;
  void CheckSubject(const Mishap& mishap);
  void CheckWheel(const WheelIn& wheel) const;
  void LayWheel(const WheelIn& wheel);

  FridgeSpec spec_;
  std::chrono::seconds elapsed_{0};
  Weather weather_;
  Keeper keeper_;
  Plant plant_;
  Humidifier humidifier_;
  AirNode air_;
  WetSurface liner_;
  std::vector<Box> boxes_;
  std::vector<Place> places_;  // the racks, then the boxes
  std::vector<Lying> wheels_;
  std::vector<Hung> probes_;
  std::vector<PlannedWheel> arrivals_;  // in the order of time
  std::vector<PlannedMishap> planned_;  // in the order of time
  std::vector<Departure> departures_;   // in the order of time
  int delivered_ = 0;
  Lasting door_ajar_, door_wide_, compressor_dead_, compressor_sticks_, power_cut_, wick_dry_, heat_wave_;
  std::chrono::seconds heat_wave_from_{0};
  Creeping thermostat_drifts_, coil_ices_;
  RoomAir room_;
  double door_ = 0;
  std::chrono::seconds interval_{0};  // how much of the wheels' interval has passed
  Ledger ledger_;
};

}  // namespace rindwatch::sensors::simulated
