#include "daemon/api/limits_trial.hpp"

#include <algorithm>
#include <cmath>

#include "daemon/book/fields.hpp"
#include "daemon/book/judge_watching.hpp"
#include "daemon/book/known_fields.hpp"
#include "daemon/book/naming.hpp"
#include "daemon/book/spans.hpp"
#include "daemon/replay/report_json.hpp"
#include "daemon/replay/sentences.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr rules::Millis kTried = std::chrono::days{90};

// What the desk's own judge makes of it: whatever may be tried may also be written.
CaveWatching WatchingOf(const ApiContext& context, const CaveRow& cave, const json::value* settings,
                        const json::value* off) {
  const json::object watching{{"cave", cave.id},
                              {"settings", settings ? *settings : json::value(json::object{})},
                              {"off", off ? *off : json::value(json::array{})},
                              {"ready_cheese", false}};
  JournalLine unwritten;
  JudgeWatching(context.book(), watching, unwritten);
  return WatchingFrom(watching);
}

bool IsOfTheWheels(const json::object& wanted, const std::string& channel) {
  if (!wanted.contains("of_wheels")) return false;
  const std::vector<std::string> channels = fields::Texts(wanted, "of_wheels");
  for (const std::string& name : channels) {
    if (name != "temperature" && name != "humidity")
      throw ActFault{"The wheels' own band is one of temperature or of humidity.", "of_wheels",
                     "\"temperature\" or \"humidity\"", name, ""};
  }
  return std::ranges::count(channels, channel) > 0;
}

OtherLimits LimitsFrom(const ApiContext& context, const CaveRow& cave, const json::object& wanted) {
  CheckFields(wanted, "temperature humidity of_wheels settings off judged ready_cheese", "a trial of limits");
  CheckSpan(wanted, "temperature", -10, 40);
  CheckSpan(wanted, "humidity", 0, 100);
  const CaveWatching tried = WatchingOf(context, cave, wanted.if_contains("settings"), wanted.if_contains("off"));
  OtherLimits other{cave.id, SpanFrom(wanted, "temperature"), SpanFrom(wanted, "humidity"), tried.own,
                    tried.out_of_service};
  other.judged = WatchingOf(context, cave, nullptr, wanted.if_contains("judged")).out_of_service;
  other.wheels_temperature = IsOfTheWheels(wanted, "temperature");
  other.wheels_humidity = IsOfTheWheels(wanted, "humidity");
  if (wanted.contains("ready_cheese")) other.ready_cheese = fields::Truth(wanted, "ready_cheese");
  return other;
}

json::object ResultJson(const ApiContext& context, const ReplayRunner::Answer& answer) {
  if (!answer.report) return {{"done", true}, {"why", answer.why}};
  const ReplayReport& report = *answer.report;
  return {{"done", true},
          {"from", ToMillis(report.from)},
          {"to", ToMillis(report.to)},
          {"then", TallyOf(report.then).rang},
          {"now", TallyOf(report.now).rang},
          {"compared", ComparedJson(report.compared)},
          {"sentence", ReplaySentence(context.words, report, SpanWord(context.words, report.to - report.from))}};
}

}  // namespace

std::optional<std::int64_t> LimitsTrials::Begin(const CaveRow& cave, const json::object& wanted) {
  const rules::Instant to = context_.now();
  ReplayCall call{to - kTried, to, cave.id, {LimitsFrom(context_, cave, wanted)}, false};
  const std::int64_t number = last_ + 1;
  const bool taken = runner_.Ask(std::move(call), [me = weak_from_this(), number](const ReplayRunner::Answer& answer) {
    const auto self = me.lock();
    if (self && self->kept_.contains(number)) self->kept_[number] = ResultJson(self->context_, answer);
  });
  if (!taken) return std::nullopt;
  last_ = number;
  kept_[number] = {{"done", false}};
  if (kept_.size() > kMostKept) kept_.erase(kept_.begin());
  return number;
}

const json::object* LimitsTrials::Look(std::int64_t number) const {
  const auto found = kept_.find(number);
  return found == kept_.end() ? nullptr : &found->second;
}

}  // namespace rindwatch
