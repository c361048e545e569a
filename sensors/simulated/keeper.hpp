// When the keeper opens the fridge: a round each morning with the lids lifted, now and then a look in the evening.
#pragma once

#include <array>
#include <chrono>

#include "sensors/simulated/random.hpp"

namespace rindwatch::sensors::simulated {

struct KeeperSpec {
  bool comes = true;
  std::chrono::seconds round_at = std::chrono::hours{7};  // local time of day
  std::chrono::seconds spread = std::chrono::minutes{6};  // deviation; never beyond an hour
  std::chrono::seconds shortest{90}, longest{210};        // of the door standing open in the morning
  double looks_in_the_evening = 0.3;                      // share of the days with a short look
};

class Keeper {
 public:
  // `starts_at`: the local time of day at second 0.
  Keeper(const KeeperSpec& spec, std::chrono::seconds starts_at, Random random);

  struct Presence {
    bool door_open = false;
    bool lids_off = false;
  };
  // Seconds since the start; never goes back.
  Presence At(std::chrono::seconds at);

 private:
  struct Visit {
    std::chrono::seconds from{0}, until{0};  // local, since the midnight before the start
    bool lids = false;
  };
  void PlanDay();

  KeeperSpec spec_;
  std::chrono::seconds starts_at_;
  Random random_;
  std::chrono::seconds day_{0};  // the midnight that begins the planned day
  std::array<Visit, 2> visits_;
};

}  // namespace rindwatch::sensors::simulated
