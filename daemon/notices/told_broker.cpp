#include "daemon/notices/told_broker.hpp"

#include <boost/json.hpp>
#include <cmath>

#include "daemon/api/barred.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/views.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {
// A care becomes due at an hour, not at an act.
constexpr rules::Millis kLookAgain = std::chrono::minutes{5};
// Acts come in bursts; a round is worked out once for all of them.
constexpr rules::Millis kSoon = std::chrono::seconds{1};
}  // namespace

json::object AlarmsStateJson(const ApiContext& context) {
  json::array alarms;
  for (const rules::Alarm& alarm : context.watch.Engine().Alarms()) {
    if (alarm.severity < rules::Severity::kWatch) continue;
    json::object told = AlarmJson(context, alarm);
    told["untaken"] = alarm.Untaken();
    alarms.push_back(std::move(told));
  }
  return {{"trial", context.trial}, {"alarms", std::move(alarms)}};
}

json::object RoundStateJson(const ApiContext& context) {
  const DayRound& round = context.watch.TodaysRound();
  const rules::Round work = WithoutBarred(context, round.work);
  const Bars bars(context);
  json::array lines;
  for (const rules::Round::Line& line : round.work.lines) {
    const rules::CareLine& care = *line.line->care;
    if (!care.OnRound()) continue;
    json::object told{{"place", PlaceName(context.book(), line.line->place)},
                      {"kinds", KindsJson(care.kinds)},
                      {"count", line.line->wheels.size()},
                      {"state", rules::ToText(care.state)},
                      {"minutes", std::lround(line.line->seconds / 60)}};
    if (const auto bar = bars.Of(line.line->place.cave)) told["barred"] = ToText(*bar);
    lines.push_back(std::move(told));
  }
  return {{"trial", context.trial},   {"day", DayJson(round.Day())}, {"sentence", SentenceOf(context)},
          {"left", work.Left()},      {"minutes", work.Minutes()},   {"questions", round.work.questions.size()},
          {"lines", std::move(lines)}};
}

void ToldBroker::Begin() { Publish(); }
void ToldBroker::Stop() { scheduler_.Forget("told broker"); }
void ToldBroker::OnLine(const JournalLine&, const std::vector<Fact>&) { Soon(); }
void ToldBroker::OnDecisions(const std::vector<rules::Decision>&) { Soon(); }

void ToldBroker::Soon() {
  scheduler_.WakeAt("told broker", context_.now() + kSoon, [this] { Publish(); });
}

void ToldBroker::Publish() {
  scheduler_.WakeAt("told broker", context_.now() + kLookAgain, [this] { Publish(); });
  broker_.Retain("alarms", json::serialize(AlarmsStateJson(context_)));
  broker_.Retain("round", json::serialize(RoundStateJson(context_)));
}

}  // namespace rindwatch
