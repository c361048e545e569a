#include "daemon/serve/news.hpp"

#include <fmt/format.h>
#include <boost/json.hpp>

#include "daemon/api/json.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

namespace {

// Seconds of the world: a page need not be told more often.
constexpr std::chrono::milliseconds kSoon{300};
constexpr std::chrono::milliseconds kCavesAtMost{4'000};
constexpr std::chrono::seconds kClock{10};
// Of the watch's clock: a care becomes due at an hour, not at an act.
constexpr rules::Millis kRound = std::chrono::minutes{5};

std::string Signature(const DayRound& round) {
  std::string text = ToText(round.Day());
  for (const rules::Round::Line& line : round.work.lines) {
    const rules::CareLine& care = *line.line->care;
    text += fmt::format("|{}{}{}", line.line->wheels.front().id, ToText(care.state), ToText(care.due));
  }
  for (const rules::Round::Ask& ask : round.work.questions)
    text += fmt::format("|{}?", ask.question->wheels.front().id);
  return text;
}

}  // namespace

News::News(boost::asio::io_context& loop, Scheduler& scheduler, Watch& watch, web::Events& events)
    : scheduler_(scheduler), watch_(watch), events_(events), soon_(loop), clock_(loop) {}

void News::Begin() {
  TellClock();
  LookAtRound();
}

void News::Stop() {
  stopped_ = true;
  soon_.cancel();
  clock_.cancel();
  scheduler_.Forget("round");
}

void News::OnJudged() {
  if (!changed_.empty() || stopped_) return;
  changed_.insert("caves");
  soon_.expires_after(kCavesAtMost);
  soon_.async_wait([this](const boost::system::error_code& error) {
    if (!error) TellAll();
  });
}

void News::OnLine(const JournalLine& line, const std::vector<Fact>&) {
  if (line.kind == "alarm") return Soon({"journal", "alarms"});
  Soon({"journal", "round", "wheels", "caves", "alarms"});
}

void News::OnDecisions(const std::vector<rules::Decision>&) { Soon({"alarms", "caves"}); }

void News::Soon(std::initializer_list<const char*> places) {
  if (stopped_) return;
  changed_.insert(places.begin(), places.end());
  soon_.expires_after(kSoon);
  soon_.async_wait([this](const boost::system::error_code& error) {
    if (!error) TellAll();
  });
}

void News::TellAll() {
  for (const std::string& place : std::exchange(changed_, {})) events_.Publish({"", place, Now()});
}

std::string News::Now() const {
  return boost::json::serialize(
      boost::json::object{{"now", ToMillis(watch_.Now())}, {"speed", watch_.TheClock().Speed()}});
}

void News::TellClock() {
  if (stopped_) return;
  events_.Pass({"", "clock", Now()});
  clock_.expires_after(kClock);
  clock_.async_wait([this](const boost::system::error_code& error) {
    if (!error) TellClock();
  });
}

void News::LookAtRound() {
  scheduler_.WakeAt("round", watch_.Now() + kRound, [this] { LookAtRound(); });
  std::string round = Signature(watch_.TodaysRound());
  if (round != round_) Soon({"round", "wheels"});
  round_ = std::move(round);
}

}  // namespace rindwatch
