// One thread steps the fridge and sends; the publisher's and the command topic's threads only hand over.
#include "daemon/simulate/simulate.hpp"

#include <poll.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <deque>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>

#include "daemon/simulate/command_inlet.hpp"
#include "daemon/simulate/mischance.hpp"
#include "daemon/simulate/speech.hpp"
#include "sensors/mqtt/publisher.hpp"
#include "sensors/simulated/mishap.hpp"

namespace rindwatch {

namespace {

using std::chrono::seconds;

// Probes speak on this grid of the fridge's own time.
constexpr double kGridSeconds = 10;
// How late this thread may be, in seconds of the world, before it is something else than being late.
constexpr double kLate = 2;

LivedFridge Begin(const SimulateOptions& options) {
  if (options.lived) return *options.lived;
  return DemoFridgeBefore(options.clock->Wall(), seconds{0}, options.seed, options.zone);
}

class Simulation {
 public:
  explicit Simulation(const SimulateOptions& options)
      : options_(options),
        clock_(*options.clock),
        lived_(Begin(options)),
        begun_at_(lived_.fridge.Elapsed() + std::chrono::floor<seconds>(clock_.Wall() - lived_.At())),
        begun_monotonic_(clock_.Monotonic()),
        lines_(options.command_lines),
        publisher_(PublisherSettings()) {}

  void Run(const std::stop_token& stop) {
    const std::stop_callback wake(stop, [this] { alert_.Raise(); });
    publisher_.Start();
    if (!options_.command_topic.empty()) {
      topic_ = std::make_unique<CommandTopic>(options_.broker, options_.patience, options_.client_id + "-commands",
                                              options_.command_topic, alert_,
                                              [this](std::string trouble) { Note(std::move(trouble)); });
    }
    while (!stop.stop_requested()) {
      TellNews();
      ObeyCommands();
      MeetMischance();
      const bool connected = publisher_.IsConnected();
      LiveUpToNow(connected);
      if (options_.listening && connected) options_.listening->Lived(lived_.At());
      if (options_.listening && !connected) options_.listening->Mute(lived_.At());
      Wait();
    }
    topic_.reset();
    publisher_.Stop();
  }

 private:
  sensors::Publisher::Settings PublisherSettings() {
    sensors::Publisher::Settings settings;
    settings.broker = options_.broker;
    settings.patience = options_.patience;
    settings.client_id = options_.client_id;
    settings.on_connection = [this](bool up, std::string_view why) { NoteConnection(up, why); };
    return settings;
  }

  // ---- any thread ----
  void NoteConnection(bool up, std::string_view why) {
    Note(up ? "the fridge's probes are connected to " + Where()
            : "the fridge's probes cannot reach " + Where() + ": " + std::string{why});
  }
  void Note(std::string sentence) {
    const std::scoped_lock lock(mutex_);
    news_.push_back(std::move(sentence));
    alert_.Raise();
  }

  // ---- the run's own thread ----
  std::string Where() const { return options_.broker.host + ":" + std::to_string(options_.broker.port); }

  void TellNews() {
    std::deque<std::string> news;
    {
      const std::scoped_lock lock(mutex_);
      news.swap(news_);
    }
    for (const std::string& line : news) Say(line);
  }

  void Say(std::string_view sentence) const {
    if (options_.say) options_.say(sentence);
  }

  void ObeyCommands() {
    while (topic_) {
      const auto line = topic_->Take();
      if (!line) break;
      Obey(*line);
    }
    while (const auto line = lines_.Take()) Obey(*line);
  }

  void MeetMischance() {
    if (!options_.by_chance) return;
    for (const std::string& line : mischance_.Until(lived_.fridge.Elapsed())) Obey(line);
  }

  void Obey(const std::string& line) {
    if (std::all_of(line.begin(), line.end(), [](char c) { return c == ' ' || c == '\t' || c == '\r'; })) return;
    try {
      const auto mishap = sensors::simulated::ParseMishap(line);
      lived_.fridge.Do(mishap);
      Say("the fridge: " + sensors::simulated::ToText(mishap));
    } catch (const std::invalid_argument& error) {
      if (options_.refuse) options_.refuse(error.what());
    }
  }

  // The fridge keeps step with the monotonic clock, so that a wall clock that is set neither stops nor rushes it; the
  // instants it names follow the wall.
  void LiveUpToNow(bool connected) {
    const auto ran = clock_.Monotonic() - begun_monotonic_;
    const seconds target = begun_at_ + std::chrono::floor<seconds>(ran);
    if (target <= lived_.fridge.Elapsed()) return;
    const auto outcome = lived_.fridge.Step(target - lived_.fridge.Elapsed());
    FollowWall();
    // A probe without its broker does not keep what it could not say, nor does it speak later than it reads.
    if (!connected) return;
    const rules::Instant oldest = clock_.Wall() - seconds{30} - Lateness();
    for (ProbeMessage& message : Speak(outcome.readings, speeches_, lived_.zero)) {
      if (message.at < oldest) continue;
      if (options_.listening) options_.listening->Said(message.topic, message.at);
      publisher_.Send(std::move(message.topic), std::move(message.payload));
    }
  }

  // What kLate is by this clock.
  rules::Millis Lateness() const {
    return rules::Millis{static_cast<rules::Millis::rep>(kLate * 1000 * std::max(clock_.Speed(), 1.0))};
  }

  // A wall clock that is off by more than lateness explains was set.
  void FollowWall() {
    const auto off = clock_.Wall() - lived_.At();
    if (off < -Lateness() || off > Lateness()) lived_.zero += std::chrono::floor<seconds>(off);
  }

  // Until the next reading may be due, a command comes or the end is asked for.
  void Wait() {
    const double grid = kGridSeconds * 1000 / std::max(clock_.Speed(), 0.001);
    const int timeout = static_cast<int>(std::clamp(grid / 4, 5.0, 1000.0));
    std::array<pollfd, 2> waited{{{alert_.Descriptor(), POLLIN, 0}, {lines_.Descriptor(), POLLIN, 0}}};
    if (poll(waited.data(), waited.size(), timeout) <= 0) return;
    if (waited[0].revents != 0) alert_.Clear();
    if (waited[1].revents != 0) lines_.Read();
  }

  const SimulateOptions& options_;
  const rules::Clock& clock_;
  LivedFridge lived_;
  seconds begun_at_;               // the fridge's second at which this run's clock began
  rules::Millis begun_monotonic_;  // and what that clock showed
  Mischance mischance_{options_.seed, begun_at_, lived_.fridge.Spec().probes};
  const std::vector<Speech> speeches_ = DemoSpeech();
  Alert alert_;
  CommandLines lines_;
  std::mutex mutex_;
  std::deque<std::string> news_;  // guarded by mutex_
  // Last: their threads use all of the above.
  std::unique_ptr<CommandTopic> topic_;
  sensors::Publisher publisher_;
};

}  // namespace

int RunSimulate(const SimulateOptions& options, const std::stop_token& stop) {
  if (options.clock == nullptr) throw std::invalid_argument("a simulation needs a clock");
  Simulation{options}.Run(stop);
  return 0;
}

}  // namespace rindwatch
