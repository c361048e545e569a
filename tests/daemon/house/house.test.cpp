#include "daemon/house/house.hpp"

#include <filesystem>

#include "daemon/clock/clocks.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;

struct Plot {
  TempFolder folder;
  Config config;
  TrialClock clock{kThursday};

  Plot() {
    config.database = folder / "rind.db";
    config.zone = "Europe/Vienna";
  }
  std::string Refused(Purpose purpose) {
    return WhatIsSaid([&] { House(config, clock, purpose); });
  }
};

TEST_CASE("a house is asked through its handlers, one question after another") {
  Plot plot;
  House house(plot.config, plot.clock, Purpose::kServe);
  house.TheWatch().Begin();
  const ApiContext context{
      .config = plot.config, .watch = house.TheWatch(), .store = house.TheStore(), .words = Words::English()};
  web::Router router;
  AddApi(router, context, [] { return web::Server::Figures{}; });
  web::Request request;
  request.method = "GET";
  request.path = "/api/caves";
  CHECK(house.Ask(router, request).status == 200);
  request.path = "/api/nowhere";
  CHECK(house.Ask(router, request).status == 404);
}

TEST_CASE("two houses never share a database") {
  Plot plot;
  const House first(plot.config, plot.clock, Purpose::kServe);
  CHECK_THAT(plot.Refused(Purpose::kServe), Says(plot.config.database));
}

TEST_CASE("a trial's database and a real one are never mixed") {
  Plot plot;
  { const House trial(plot.config, plot.clock, Purpose::kTrial); }
  CHECK_FALSE(plot.Refused(Purpose::kServe).empty());
  CHECK(plot.Refused(Purpose::kTrial).empty());
}

TEST_CASE("a folder that is not there is said to be missing") {
  Plot plot;
  plot.config.database = plot.folder / "none/rind.db";
  CHECK_THAT(plot.Refused(Purpose::kServe), Says("none"));
}

TEST_CASE("the home is that of the configuration, or the machine's own") {
  Plot plot;
  plot.config.day_turn = 5;
  CHECK(HomeOf(plot.config).zone.Name() == "Europe/Vienna");
  CHECK(HomeOf(plot.config).hour == 5);
  plot.config.zone = "Nowhere/Here";
  CHECK_THAT(WhatIsSaid([&] { HomeOf(plot.config); }), Says("Nowhere/Here"));
  plot.config.zone.clear();
  CHECK(HomeOf(plot.config).zone.Name() == MachineZoneName());
}

}  // namespace
}  // namespace rindwatch
