// The answers of the API, each as openapi.yaml describes it. Made here alone, for HTTP, for --json and for the broker.
// Those that need the past take a continuation; it is called in the loop's thread.
#pragma once

#include <boost/json.hpp>
#include <functional>
#include <optional>

#include "daemon/api/context.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

using JsonDone = std::function<void(boost::json::object)>;

boost::json::object HeadJson(const ApiContext& context);
boost::json::object AlarmJson(const ApiContext& context, const rules::Alarm& alarm);
// As the watch has it, or as the journal does once the watch has let it go; none: there is none.
std::optional<rules::Alarm> FindAlarm(const ApiContext& context, const std::string& id);
// Which round: of today as it stands now unless something else is asked for.
struct RoundAsk {
  std::optional<rules::Date> day;
  std::optional<rules::Instant> at;  // as it stood then
  std::optional<int> minutes;        // and what of it can be done in so many
};
bool IsToday(const ApiContext& context, const RoundAsk& ask);
// Of another day or instant.
DayRound OtherRound(const ApiContext& context, const RoundAsk& ask);
boost::json::object RoundJson(const ApiContext& context, const RoundAsk& ask = {});
boost::json::object WheelsJson(const ApiContext& context);
// Those that left, the last first.
boost::json::object GoneJson(const ApiContext& context);
boost::json::object PlansJson(const ApiContext& context);
boost::json::object ArrivingJson(const ApiContext& context);
boost::json::object HealthJson(const ApiContext& context);

// A cave without its ribbon: what is retained at the broker.
boost::json::object CaveStateJson(const Watch& watch, const CaveRow& cave, const rules::CaveView& view);
// Takes away what it dates to an instant that has not come, as after a clock that was ahead.
void DropFuture(boost::json::object& state, rules::Instant now);
boost::json::object LineJson(const ApiContext& context, const JournalLine& line);

void CavesJson(const ApiContext& context, JsonDone done);
// What a ribbon shows of a cave that is looked at.
inline constexpr rules::Millis kRibbon = std::chrono::hours{24};
// One cave with the ribbon from `from` to `to`; empty if it went away meanwhile.
void CaveJson(const ApiContext& context, const CaveRow& cave, rules::Instant from, rules::Instant to, JsonDone done);
// `cave` must be in the book.
void CavePageJson(const ApiContext& context, const CaveRow& cave, JsonDone done);
// `wheel` must be in the book.
void WheelPageJson(const ApiContext& context, const WheelRow& wheel, JsonDone done);
void JournalJson(const ApiContext& context, std::int64_t before, JsonDone done);

}  // namespace rindwatch
