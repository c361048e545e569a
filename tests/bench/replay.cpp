// What `rindwatch replay` costs over a real database of 20 probes that speak each 30 seconds. Prints, never asserts;
// the processor's time, for other work may go on beside it. replay-bench [DAYS [FOLDER]]: 10 days unless said
// otherwise; in a folder that is named the database stays, with its configuration, for `rindwatch replay` itself:
//
//   replay-bench 365 FOLDER && command time -v rindwatch replay --config FOLDER/rindwatch.toml --whole --days 366
//
// Invented air.
#include <fmt/format.h>

#include <chrono>
#include <filesystem>
#include <fstream>

#include "daemon/replay/replay.hpp"
#include "tests/bench/invented_air.hpp"
#include "tests/daemon/house/household.hpp"

namespace rindwatch::bench {
namespace {

using namespace testing;
using std::chrono::days;

void LiveIn(const std::string& database, int day_count) {
  Household house(database, kThursday);
  house.Begin();
  for (int probe = 1; probe <= kProbes; ++probe) {
    const std::string name = fmt::format("Probe {}", probe), topic = fmt::format("probe/{}", probe);
    house.Do("probe",
             AirProbe(name.c_str(), topic.c_str(), probe <= kCaves ? NewCave("room") : InCave(1 + probe % kCaves)));
  }
  for (int cave = 1; cave <= kCaves; ++cave) house.Do("enter", PressedWheels(2, InCave(cave), 9));
  Air air;
  const auto turns = static_cast<std::int64_t>(days{day_count} / kEvery);
  for (std::int64_t turn = 1; turn <= turns; ++turn) {
    house.StepTo(kThursday + turn * kEvery);
    std::vector<rules::Reading> all;
    for (int probe = 1; probe <= kProbes; ++probe) {
      // A week of trouble, so that there is something to find again.
      const double trouble = probe % kCaves == 0 && turn % 20'160 > 17'280 ? 4 : 0;
      all.push_back(house.Reading(probe * 2 - 1, air.Temperature(turn, probe) + trouble));
      all.push_back(house.Reading(probe * 2, air.Humidity(turn, probe)));
    }
    house.Keep(std::move(all));
  }
  house.End();
}

// Where the database is made; in a folder that nobody named it goes again.
class Place {
 public:
  explicit Place(const char* named)
      : stays_(named != nullptr),
        folder_(named ? std::filesystem::absolute(named)
                      : std::filesystem::temp_directory_path() / fmt::format("replay-bench-{}", getpid())) {
    std::filesystem::create_directories(folder_);
    std::ofstream(folder_ / "rindwatch.toml")
        << fmt::format("[database]\npath = \"{}\"\n[home]\nzone = \"Europe/Vienna\"\n", Database());
  }
  ~Place() {
    if (!stays_) std::filesystem::remove_all(folder_);
  }
  Place(const Place&) = delete;
  Place& operator=(const Place&) = delete;
  std::string Database() const { return folder_ / "rind.db"; }

 private:
  bool stays_;
  std::filesystem::path folder_;
};

void MeasureReplay(int day_count, const char* folder) {
  const Place place(folder);
  const std::string database = place.Database();
  LiveIn(database, day_count);
  const double before = ResidentMegabytes(), began = Processor();
  const auto by_the_clock = std::chrono::steady_clock::now();
  const ReplayReport report =
      Replay(database, Vienna(),
             {.from = kThursday, .to = kThursday + days{day_count + 1}, .cave = {}, .other = {}, .whole = true},
             std::atomic<bool>{false});
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - by_the_clock;
  const double worked = Processor() - began;
  const auto readings = static_cast<double>(report.readings);
  fmt::print(
      "replay from the database, {} probes each {} s, {} days: {} readings in {:.1f} s, {:.2f} million a second "
      "({:.1f} s of a core's time, {:.2f} million); memory {:.1f} MB before, {:.1f} MB after; {} alarms, {}\n",
      kProbes, kEvery.count(), day_count, report.readings, took.count(), readings / took.count() / 1e6, worked,
      readings / worked / 1e6, before, ResidentMegabytes(), report.now.size(),
      report.differences.empty() ? "identical to the journal" : "not what the journal says");
}

}  // namespace
}  // namespace rindwatch::bench

int main(int count, char** words) {
  const int day_count = count > 1 ? std::atoi(words[1]) : 10;
  rindwatch::bench::MeasureReplay(std::max(1, day_count), count > 2 ? words[2] : nullptr);
  return 0;
}
