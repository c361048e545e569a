// A watch that can be killed at a chosen moment: it keeps readings in a file and says so to the broker only then.
//
//   keep-and-die PORT FILE before N   SIGKILLs itself when asked to keep the Nth message of this life
//   keep-and-die PORT FILE after N    the same, with the message kept and not yet acknowledged
//   keep-and-die PORT FILE never 0    goes on until it is killed
//
// It says that it is alive on the topic "watch/alive".
//
// A line of the file: message of this life, value, source, marks. What is written by write(2) outlives a SIGKILL.
#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <sstream>
#include <string>

#include "rules/clock.hpp"
#include "sensors/mqtt/publisher.hpp"
#include "sensors/mqtt/subscriber.hpp"

namespace {

using namespace rindwatch;

class WallClock : public rules::Clock {
 public:
  rules::Instant Wall() const override {
    return std::chrono::time_point_cast<rules::Millis>(std::chrono::system_clock::now());
  }
  rules::Millis Monotonic() const override {
    return std::chrono::duration_cast<rules::Millis>(std::chrono::steady_clock::now().time_since_epoch());
  }
};

class FileSink : public sensors::ReadingSink {
 public:
  FileSink(const std::string& file, std::string when, int nth)
      : file_(open(file.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600)), when_(std::move(when)), nth_(nth) {}

  sensors::KeepResult Keep(const sensors::Batch& batch) noexcept override {
    ++count_;
    if (when_ == "before" && count_ == nth_) kill(getpid(), SIGKILL);
    std::ostringstream line;
    for (const auto& reading : batch.readings) {
      line << count_ << ' ' << reading.milli / 1000 << ' ' << static_cast<int>(reading.source) << ' '
           << static_cast<int>(reading.marks) << '\n';
    }
    const auto text = line.str();
    if (write(file_, text.data(), text.size()) != static_cast<ssize_t>(text.size())) return {};
    if (when_ == "after" && count_ == nth_) kill(getpid(), SIGKILL);
    return {.kept = true, .outcomes = std::vector(batch.readings.size(), sensors::Kept::kNew)};
  }

 private:
  int file_;
  std::string when_;
  int nth_;
  int count_ = 0;
};

class Deaf : public sensors::MqttListener {
 public:
  void OnReadings(const std::vector<rules::Reading>&) noexcept override {}
  void OnInvalid(std::string_view, std::string_view, std::string_view) noexcept override {}
  void OnArriving(std::string_view, std::string_view, rules::Instant) noexcept override {}
  void OnConnection(bool, std::string_view) noexcept override {}
};

// The last line of the file is the last kept message of the one topic.
sensors::Known KnownFrom(const std::string& file) {
  std::ifstream lines(file);
  std::string line;
  std::string value;
  while (std::getline(lines, line)) {
    std::istringstream words(line);
    std::string count;
    words >> count >> value;
  }
  sensors::Known known;
  if (!value.empty()) known.fingerprints.emplace_back("probe", sensors::FingerprintOf("probe", value));
  return known;
}

}  // namespace

int main(int count, char** words) {
  if (count != 5) {
    std::cerr << "usage: keep-and-die PORT FILE before|after|never N\n";
    return 2;
  }
  const std::string file = words[2];
  sensors::Subscriber::Settings settings;
  settings.broker.port = static_cast<std::uint16_t>(std::atoi(words[1]));
  settings.client_id = "keep-and-die";
  settings.patience.first_retry = std::chrono::milliseconds(10);
  const WallClock clock;
  FileSink sink(file, words[3], std::atoi(words[4]));
  Deaf listener;
  const sensors::Route route{.filter = "probe",
                             .probe = 1,
                             .format = sensors::Format::kPlain,
                             .channels = {{1, rules::ChannelKind::kWeight, "", sensors::Unit::kGram}},
                             .time_pointer = {}};
  sensors::Subscriber subscriber(settings, clock, sink, listener, KnownFrom(file), {route});
  sensors::Publisher::Settings alive;
  alive.broker = settings.broker;
  alive.client_id = "keep-and-die-out";
  alive.alive_topic = "watch/alive";
  sensors::Publisher publisher(alive);
  publisher.Start();
  subscriber.Start();
  for (;;) pause();
}
