// What open pages hear: which places changed. Many changes are one event.
#pragma once

#include <boost/asio/io_context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <set>
#include <string>

#include "daemon/watch/watch.hpp"
#include "web/events.hpp"

namespace rindwatch {

class News : public WatchListener {
 public:
  News(boost::asio::io_context& loop, Scheduler& scheduler, Watch& watch, web::Events& events);
  void Begin();
  void Stop();
  // A place changed of which no line of the journal tells.
  void TellOf(const char* place) { Soon({place}); }

 private:
  void OnJudged() override;
  void OnLine(const JournalLine& line, const std::vector<Fact>& facts) override;
  void OnDecisions(const std::vector<rules::Decision>& decisions) override;

  void Soon(std::initializer_list<const char*> places);
  void TellAll();
  void TellClock();
  void LookAtRound();
  std::string Now() const;

  Scheduler& scheduler_;
  Watch& watch_;
  web::Events& events_;
  boost::asio::steady_timer soon_, clock_;
  std::set<std::string> changed_;
  bool stopped_ = false;
  std::string round_;  // as it was last told, to notice what only time changes
};

}  // namespace rindwatch
