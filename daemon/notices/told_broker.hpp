// What the broker holds of alarms and of the round, retained, for whoever hangs something on it. The loop's thread.
#pragma once

#include <boost/json/object.hpp>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/watch/watch.hpp"

namespace rindwatch {

class ToldBroker : public WatchListener {
 public:
  ToldBroker(const ApiContext& context, BrokerSide& broker, Scheduler& scheduler)
      : context_(context), broker_(broker), scheduler_(scheduler) {}
  void Begin();
  void Stop();

 private:
  void OnJudged() override {}
  void OnLine(const JournalLine& line, const std::vector<Fact>& facts) override;
  void OnDecisions(const std::vector<rules::Decision>& decisions) override;
  void Soon();
  void Publish();

  const ApiContext& context_;
  BrokerSide& broker_;
  Scheduler& scheduler_;
};

// {at, alarms: [...]}, as the API tells them; hints left out.
boost::json::object AlarmsStateJson(const ApiContext& context);
// {day, sentence, left, minutes, questions, lines: [{place, kinds, count, state, minutes}]}
boost::json::object RoundStateJson(const ApiContext& context);

}  // namespace rindwatch
