#include "daemon/api/alarm_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/leaps.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/views.hpp"
#include "daemon/notices/notices.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

void AddTrouble(json::array& troubles, const char* kind, rules::Instant since, std::string text) {
  troubles.push_back({{"kind", kind}, {"since", ToMillis(since)}, {"text", std::move(text)}});
}

// A house without probes that asked for no broker misses none; the page of the probes, where one would be set up, says
// whether one answers.
bool MissesBroker(const ApiContext& context) { return context.config.broker_given || !context.book().Probes().empty(); }

// What is wrong with the watch itself, each said once.
json::array TroublesJson(const ApiContext& context) {
  json::array troubles;
  const StoreHealth health = context.store.Health();
  if (!health.writing) AddTrouble(troubles, "store", context.now(), health.why);
  if (const auto since = context.notices ? context.notices->StuckSince() : std::nullopt)
    AddTrouble(troubles, "notices", *since, context.words.Say("trouble.notices"));
  if (context.notices) {
    for (const auto& unreached = context.notices->Unreached(); const auto& [address, since] : unreached)
      AddTrouble(troubles, "notices", since, context.words.Say("trouble.unreached", {{"address", address}}));
  }
  for (const Leap& leap : context.notices ? context.notices->Leaps() : std::vector<Leap>{})
    AddTrouble(troubles, "clock", leap.to, LeapTrouble(context, leap));
  if (!context.broker) return troubles;
  if (const auto& away = context.broker->WhyAway(); away && MissesBroker(context))
    AddTrouble(troubles, "broker", away->since, away->why);
  for (const BrokerSide::Away& trouble : context.broker->Troubles()) {
    AddTrouble(troubles, "broker", trouble.since, trouble.why);
  }
  if (!context.broker->IsClockKnown()) {
    const auto at = context.broker->WentBackAt();
    AddTrouble(troubles, "clock", at.value_or(context.now()), ClockTrouble(context));
    troubles.back().as_object()["more"] = ClockTroubleMore(context);
  }
  return troubles;
}

}  // namespace

json::object HeadJson(const ApiContext& context) {
  const Book& book = context.book();
  json::array alarms;
  for (const rules::Alarm& alarm : AlarmsAsTold(context)) alarms.push_back(AlarmJson(context, alarm));
  return {{"now", ToMillis(context.now())},
          {"speed", context.watch.TheClock().Speed()},
          {"trial", context.trial},
          {"open", context.open},
          {"zone", book.Home().zone.Name()},
          {"day", DayJson(book.Home().DayOf(context.now()))},
          {"day_turn", book.Home().hour},
          {"event", context.events ? context.events->LastId() : std::string{}},
          {"empty", book.Wheels().empty() && book.GoneCount() == 0},
          {"sentence", SentenceOf(context)},
          {"alarms", std::move(alarms)},
          {"troubles", TroublesJson(context)}};
}

}  // namespace rindwatch
