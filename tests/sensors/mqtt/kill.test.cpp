// Acknowledged is kept: a watch that is killed in the middle of its work, again and again, loses nothing.
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "rules/reading.hpp"
#include "tests/catch.hpp"
#include "tests/sensors/mosquitto.hpp"

using namespace rindwatch::tests;
using rindwatch::rules::Has;
using rindwatch::rules::Mark;
using rindwatch::rules::Marks;
using rindwatch::rules::TimeSource;

namespace {

struct Line {
  int message = 0;
  int value = 0;
  TimeSource source = TimeSource::kArrival;
  Marks marks = 0;
};

std::vector<Line> ReadLines(const std::filesystem::path& path) {
  std::vector<Line> lines;
  std::ifstream file(path);
  Line line;
  int source = 0;
  int marks = 0;
  while (file >> line.message >> line.value >> source >> marks) {
    line.source = static_cast<TimeSource>(source);
    line.marks = static_cast<Marks>(marks);
    lines.push_back(line);
  }
  return lines;
}

class Victim {
 public:
  explicit Victim(const Mosquitto& broker) : broker_(broker), file_(broker.Folder() / "kept") {}

  void Live(const std::string& when, int nth) {
    process_ = Process({Tool(), Port(), file_.string(), when, std::to_string(nth)});
  }
  bool WaitForDeath() {
    return Eventually([&] { return process_.HasEnded(); });
  }
  bool WaitForSubscription(std::size_t times) const {
    return Eventually([&] { return broker_.CountInLog("Sending SUBACK to keep-and-die") >= times; });
  }
  void Kill() { process_.Kill(); }
  std::vector<Line> Kept() const { return ReadLines(file_); }
  bool HasKept(int value) const {
    for (const auto& line : Kept()) {
      if (line.value == value) return true;
    }
    return false;
  }

 private:
  std::string Port() const { return std::to_string(broker_.Port()); }
  // It lies beside this test.
  static std::string Tool() { return std::filesystem::read_symlink("/proc/self/exe").parent_path() / "keep-and-die"; }

  const Mosquitto& broker_;
  std::filesystem::path file_;
  Process process_;
};

std::vector<std::string> Numbers(int from, int to) {
  std::vector<std::string> lines;
  for (int i = from; i <= to; ++i) lines.push_back(std::to_string(i));
  return lines;
}

}  // namespace

TEST_CASE("killed before it kept a message, the watch gets it again") {
  const Mosquitto broker;
  Victim victim(broker);
  victim.Live("before", 2);
  REQUIRE(victim.WaitForSubscription(2));  // the route and the marker
  broker.PublishLines("probe", Numbers(1, 3));
  REQUIRE(victim.WaitForDeath());
  CHECK(victim.Kept().size() == 1);
  victim.Live("never", 0);
  REQUIRE(Eventually([&] { return victim.HasKept(3); }));
  const auto kept = victim.Kept();
  REQUIRE(kept.size() >= 3);
  for (std::size_t i = 1; i < kept.size(); ++i) {
    CHECK(kept[i].source == TimeSource::kBacklog);
    CHECK_FALSE(Has(kept[i].marks, Mark::kLive));
  }
}

TEST_CASE("killed after it kept a message and before the broker heard, the watch marks it as a repeat") {
  const Mosquitto broker;
  Victim victim(broker);
  victim.Live("after", 1);
  REQUIRE(victim.WaitForSubscription(2));
  broker.Publish("probe", "1");
  REQUIRE(victim.WaitForDeath());
  broker.Publish("probe", "1");  // the same value again, but another message
  victim.Live("never", 0);
  REQUIRE(Eventually([&] { return victim.Kept().size() == 3; }));
  const auto kept = victim.Kept();
  CHECK(Has(kept[0].marks, Mark::kLive));
  CHECK(Has(kept[1].marks, Mark::kRepeat));
  CHECK_FALSE(Has(kept[2].marks, Mark::kRepeat));
  CHECK(kept[2].source == TimeSource::kBacklog);
}

TEST_CASE("killed, the watch is told dead by its last will") {
  const Mosquitto broker;
  Victim victim(broker);
  victim.Live("never", 0);
  REQUIRE(Eventually([&] { return broker.Retained("watch/alive") == "1"; }));
  victim.Kill();
  CHECK(Eventually([&] { return broker.Retained("watch/alive") == "0"; }));
}

TEST_CASE("killed thirty times while a probe speaks, the watch loses nothing") {
  const Mosquitto broker;
  Victim victim(broker);
  std::mt19937 random(33);
  victim.Live("never", 0);
  REQUIRE(victim.WaitForSubscription(2));
  victim.Kill();
  constexpr int kLast = 600;
  broker.PublishLines("probe", Numbers(1, kLast));
  for (int life = 0; life < 30; ++life) {
    victim.Live(random() % 2 == 0 ? "before" : "after", 1 + static_cast<int>(random() % 15));
    REQUIRE(victim.WaitForDeath());
  }
  victim.Live("never", 0);
  REQUIRE(Eventually([&] { return victim.HasKept(kLast); }));
  victim.Kill();

  std::map<int, int> times;
  int repeats = 0;
  int previous = 0;
  for (const auto& line : victim.Kept()) {
    ++times[line.value];
    const bool marked = Has(line.marks, Mark::kRepeat);
    // A mark is never wrong: what carries it is the message before, once more.
    if (marked) CHECK(line.value == previous);
    repeats += marked ? 1 : 0;
    previous = line.value;
  }
  CHECK(times.size() == kLast);
  CHECK(times.begin()->first == 1);
  CHECK(times.rbegin()->first == kLast);
  CHECK(repeats > 0);
}
