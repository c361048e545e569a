#include "daemon/house/set_back.hpp"

#include <fstream>

#include "daemon/clock/clocks.hpp"
#include "rules/alarms/version.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

constexpr std::int64_t kHour = 3'600'000;

TEST_CASE("a start by a right clock tells the store of what was kept ahead of it, and of nothing else") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const std::int64_t now = rig.clock.wall;
  rig.store->Keep(MakeBatch({MakeReading(1, now, 1)}));
  rig.Tick();
  const auto set_back = [&rig](std::int64_t at) {
    rig.OpenOnly();
    return SetBackIfAhead(*rig.store, rules::FromMillis(at));
  };
  CHECK_FALSE(set_back(now));
  CHECK_FALSE(set_back(now - 60'000));
  const std::string count = "SELECT count(*) FROM misdated";
  CHECK(AskSql(rig.settings.path, count) == "0");
  CHECK(set_back(now - kHour) == rules::FromMillis(now));
  CHECK(AskSql(rig.settings.path, count) == "1");
  CHECK_FALSE(set_back(now - kHour));
}

TEST_CASE("a state that went on ahead without any reading is not taken up again") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const std::int64_t now = rig.clock.wall;
  REQUIRE(rig.Save({0, rules::FromMillis(now + kHour), rules::kRulesVersion, "ahead"}));
  rig.OpenOnly();
  CHECK(SetBackIfAhead(*rig.store, rules::FromMillis(now)) == rules::FromMillis(now + kHour));
  CHECK_FALSE(rig.store->ReadSnapshot(rules::kRulesVersion));
}

TEST_CASE("the network has set a clock where its service left its mark") {
  TempFolder folder;
  CHECK_FALSE(IsSetByNetwork(folder / "synchronized"));
  std::ofstream(folder / "synchronized").flush();
  CHECK(IsSetByNetwork(folder / "synchronized"));
}

}  // namespace
}  // namespace rindwatch
