#include "daemon/simulate/mischance.hpp"

#include <algorithm>
#include <set>

#include "sensors/simulated/mishap.hpp"
#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using std::chrono::hours;

using Probes = std::vector<sensors::simulated::ProbeSpec>;

Probes Named(std::initializer_list<const char*> names) {
  Probes probes;
  for (const char* name : names) probes.emplace_back().name = name;
  return probes;
}

const Probes kFridge = Named({"Fridge air", "Fridge plug", "Box 1 air"});

std::vector<std::string> Year(std::uint64_t seed, const Probes& probes = kFridge) {
  Mischance mischance(seed, hours{100}, probes);
  std::vector<std::string> all;
  for (hours at{100}; at < hours{100 + 365 * 24}; ++at) {
    for (std::string& line : mischance.Until(at)) all.push_back(std::move(line));
  }
  return all;
}

TEST_CASE("mishaps come by chance, each a line that the fridge understands, the same for the same seed") {
  const std::vector<std::string> year = Year(20);
  CHECK(year.size() > 100);
  CHECK(year.size() < 400);
  std::set<sensors::simulated::Mishap::Kind> kinds;
  for (const std::string& line : year) {
    CAPTURE(line);
    CHECK_NOTHROW(sensors::simulated::ParseMishap(line));
    kinds.insert(sensors::simulated::ParseMishap(line).kind);
  }
  CHECK(kinds.size() > 10);
  CHECK(year == Year(20));
  CHECK(year != Year(21));
}

TEST_CASE("no mishap befalls a probe that does not hang there") {
  const auto boxes = [](const std::vector<std::string>& year) {
    return std::ranges::count_if(year, [](const std::string& line) { return line.find("Box 1") != line.npos; });
  };
  CHECK(boxes(Year(20)) > 0);
  CHECK(boxes(Year(20, Named({"Fridge air"}))) == 0);
}

TEST_CASE("nothing befalls the place in its first hours, and something within half a day") {
  Mischance mischance(20, hours{0}, kFridge);
  CHECK(mischance.Until(hours{5}).empty());
  CHECK(mischance.Until(hours{12}).size() >= 1);
}

}  // namespace
}  // namespace rindwatch
