// What was acknowledged survives SIGKILL at any moment, once. The child keeps and reports through a pipe, the parent
// kills it after some number of reports.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <map>
#include <random>
#include <thread>

#include "daemon/store/store.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/long_tests.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// Of a kept reading: its number; of a written line: minus its number.
using Report = std::int64_t;

void Send(int pipe, Report report) {
  if (write(pipe, &report, sizeof report) != sizeof report) _exit(1);
}

// Never returns: keeps in one thread and appends in another until it is killed.
[[noreturn]] void LiveUntilKilled(const std::string& path, std::int64_t first, int pipe) {
  Rig rig(path);
  rig.Begin();
  std::thread paho([&] {
    for (std::int64_t number = first;; ++number) {
      const auto topic = "box/" + std::to_string(number % 2);
      if (rig.store->Keep(MakeBatch({MakeReading(1, number, number), MakeReading(2, number, number)}, topic, 1)).kept)
        Send(pipe, number);
    }
  });
  for (std::int64_t number = first;; ++number) {
    const AppendResult result = rig.Append(MakeLine("act" + std::to_string(number), "{}", {1}));
    if (result.kind == AppendResult::Kind::kWritten) Send(pipe, -number);
    if (number % 16 == 0) rig.Save({result.position, rig.clock.Wall(), 1, "state"});
  }
}

std::vector<Report> KillAfter(const std::string& path, std::int64_t first, std::size_t reports) {
  int ends[2];
  REQUIRE(pipe(ends) == 0);
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    close(ends[0]);
    try {
      LiveUntilKilled(path, first, ends[1]);
    } catch (...) {
      _exit(1);
    }
  }
  close(ends[1]);
  std::vector<Report> acked;
  // After the kill, what was still in the pipe was acknowledged too.
  for (Report report = 0; read(ends[0], &report, sizeof report) == sizeof report;) {
    acked.push_back(report);
    if (acked.size() == reports) kill(child, SIGKILL);
  }
  close(ends[0]);
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WIFSIGNALED(status));
  return acked;
}

TEST_CASE("what was acknowledged survives SIGKILL at any moment, once") {
  TempFolder folder;
  const std::string path = folder / "rind.db";
  std::mt19937 random(20);
  std::vector<Report> acked;
  for (int round = 0; round < Rounds(12, 300); ++round) {
    const auto more = KillAfter(path, 1 + round * 1'000'000, 1 + random() % 150);
    acked.insert(acked.end(), more.begin(), more.end());

    std::map<Report, int> found;
    std::int64_t last_position = 0;
    Rig rig(path);
    rig.OpenOnly();
    rig.store->ReadInputs(0, std::nullopt, [&](const Committed& kept) {
      CHECK(kept.position > last_position);
      last_position = kept.position;
      if (const auto* message = std::get_if<0>(&kept.what)) {
        CHECK(message->size() == 2);  // whole or not at all
        ++found[message->front().milli];
      }
      if (const auto* line = std::get_if<1>(&kept.what)) ++found[-std::stoll(line->id.substr(3))];
    });
    const auto lost = std::ranges::count_if(acked, [&](Report report) { return found[report] != 1; });
    CHECK(lost == 0);
  }
  CHECK(CheckDatabase(path, [](const JournalLine&) { return std::vector<Fact>(); }).faults.empty());
}

}  // namespace
}  // namespace rindwatch
