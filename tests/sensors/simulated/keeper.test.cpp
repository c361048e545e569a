#include "sensors/simulated/keeper.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;
using std::chrono::seconds;

TEST_CASE("the keeper opens the door once each morning around the hour, for minutes, and lifts the lids meanwhile") {
  KeeperSpec spec;
  spec.looks_in_the_evening = 0;
  const seconds starts_at = GENERATE(0s, 9h, seconds{23h + 30min});
  Keeper keeper{spec, starts_at, Random{5, 2}};
  int opened = 0, lifted = 0;
  bool was_open = false, was_lifted = false;
  seconds since{0};
  for (seconds at{0}; at < 24h * 10; at += 1s) {
    const auto now = keeper.At(at);
    const seconds local = (at + starts_at) % seconds{24h};
    if (now.door_open && !was_open) {
      ++opened;
      since = at;
      CHECK(local > 6h + 30min);
      CHECK(local < 7h + 30min);
    }
    if (!now.door_open && was_open) {
      CHECK(at - since >= spec.shortest);
      CHECK(at - since <= spec.longest);
    }
    if (now.lids_off && !was_lifted) ++lifted;
    if (now.lids_off) CHECK(now.door_open);
    was_open = now.door_open;
    was_lifted = now.lids_off;
  }
  CHECK(opened == 10);
  CHECK(lifted == 10);
}

TEST_CASE("on some evenings there is a short look with the lids on") {
  KeeperSpec spec;
  spec.looks_in_the_evening = 0.5;
  Keeper keeper{spec, 0s, Random{5, 2}};
  seconds looked{0};
  for (seconds at{0}; at < 24h * 30; at += 1s) {
    const auto now = keeper.At(at);
    if (!now.door_open || at % seconds{24h} < 12h) continue;
    looked += 1s;
    CHECK_FALSE(now.lids_off);
  }
  CHECK(looked >= 5 * 20s);
  CHECK(looked <= 25 * 20s);
}

TEST_CASE("a keeper who is away opens nothing") {
  KeeperSpec spec;
  spec.comes = false;
  Keeper keeper{spec, 0s, Random{5, 2}};
  for (seconds at{0}; at < 48h; at += 10s) {
    if (keeper.At(at).door_open) FAIL("somebody came");
  }
  CHECK_FALSE(keeper.At(48h).lids_off);
}
