#include "daemon/morning/past.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/concerned.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/ending.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/morning/standing.hpp"
#include "daemon/notices/notices.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/kin_word.hpp"

namespace rindwatch::morning {

using rules::Instant;
using std::chrono::days;

namespace {

// The instant of an hour of a day, by the keeper's clock.
Instant HourOf(const ApiContext& context, Date day, std::chrono::minutes hour) {
  return context.book().Home().zone.FirstInstantAtOrAfter(LocalTime{day} + hour);
}

Date Today(const ApiContext& context) { return context.book().Home().DayOf(context.now()); }

// "19:00"; where another day stands in front of it than the one on which it ended, "Tuesday 02:00".
std::string EndWord(const ApiContext& context, const rules::Alarm& alarm, Instant dated_before) {
  const rules::Zone& zone = context.book().Home().zone;
  const Instant since = ToldSince(context.watch, alarm), until = alarm.LastedUntil();
  const Date began = std::chrono::floor<days>(zone.ToLocal(since));
  const Date ended = std::chrono::floor<days>(zone.ToLocal(until));
  std::string time = TimeWord(context.book(), until);
  if (since >= dated_before || began == ended) return time;
  return FarDay(context.words, ended, Today(context)) + " " + time;
}

// "probe stuck (humidity 88.5 %)"
std::string BlindWord(const ApiContext& context, const rules::Alarm& alarm) {
  const std::string what = AlarmWord(context.words, alarm), said = DoubtWords(context.words, alarm);
  return said.empty() ? what : context.words.Say("morning.night.doubted", {{"what", what}, {"said", said}});
}

// "2 bloomies, Box 1 (14.5 °C, keep 6.5 to 13.5)"
std::string BeyondWords(const Words& words, const rules::Alarm& alarm, const Concern& wheels) {
  return words.Say(
      "morning.night.own wheels",
      {{"wheels", std::to_string(wheels.count) + " " + KinWord(words, wheels.family, static_cast<int>(wheels.count))},
       {"cave", wheels.cave},
       {"value", AlarmFigure(words, alarm.kind, *wheels.own)},
       {"band", BandFigure(words, *wheels.keep)}});
}

// Which wheels were beyond their own band, or that none was; empty: of some of them nobody knows, and none of the
// others was.
std::string OwnBandWords(const ApiContext& context, const rules::Alarm& alarm) {
  const std::vector<Concern> concerns = Concerns(context, alarm);
  std::vector<std::string> beyond;
  for (const Concern& wheels : concerns) {
    // What lay beyond it before, and does still, this event did not take out.
    if (wheels.LeftBand().value_or(false) && !wheels.as_before)
      beyond.push_back(BeyondWords(context.words, alarm, wheels));
  }
  if (!beyond.empty()) return context.words.Say("morning.night.own beyond", {{"wheels", Join(beyond, "; ")}});
  const bool before = std::ranges::any_of(concerns, &Concern::as_before);
  const bool known = std::ranges::all_of(concerns, [](const Concern& wheels) { return wheels.LeftBand().has_value(); });
  if (known && before) return context.words.Say("morning.night.own as before");
  return known && !concerns.empty() ? context.words.Say("morning.night.own kept") : std::string{};
}

// How far the air came and, where it is known, a wheel; empty: nobody was told of it, or it has no figure.
std::string FurthestWords(const ApiContext& context, const rules::Alarm& alarm) {
  const Words& words = context.words;
  // Of a time in which nothing spoke its edges are all that is known.
  if (AirAfter(alarm) && alarm.warmest && alarm.kind != rules::AlarmKind::kUnwatched) return EdgesWords(words, alarm);
  if (std::string most = MostSentence(words, alarm); !most.empty()) return most;
  if (alarm.severity < rules::Severity::kWatch || !HasFurthest(alarm) || rules::NeverLeft(alarm)) return {};
  if (alarm.why == rules::Why::kOneProbe) return words.Say("stays unknown.odds");
  const std::string far = AlarmFigure(words, alarm.kind, FurthestOf(context.book(), alarm));
  // Of those that it touched, as the letter tells them.
  std::optional<double> own;
  for (const rules::OwnFurthest& one : alarm.own) {
    const bool touched = std::ranges::any_of(
        one.wheels, [&alarm](rules::WheelId id) { return std::ranges::count(alarm.wheels, id) > 0; });
    if (!touched) continue;
    const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
    own = cold ? std::min(one.value, own.value_or(one.value)) : std::max(one.value, own.value_or(one.value));
  }
  if (!own) return words.Say("morning.night.furthest", {{"far", far}});
  return Join({words.Say("morning.night.furthest own", {{"far", far}, {"own", AlarmFigure(words, alarm.kind, *own)}}),
               OwnBandWords(context, alarm)},
              " ");
}

std::string PastWords(const ApiContext& context, const rules::Alarm& alarm, const CaveRow& cave, Instant dated_before) {
  const std::string time = EndWord(context, alarm, dated_before);
  if (EndedUnseen(context.book(), alarm.id))
    return context.words.Say("morning.night.unseen",
                             {{"cave", cave.name}, {"what", AlarmWord(context.words, alarm)}, {"time", time}});
  // It may be as it was: nobody asks of it any more. A step that ended so says why on its page.
  if (alarm.Unjudged() && alarm.ending != rules::Ending::kAskedOtherwise)
    return context.words.Say("morning.night.unjudged",
                             {{"cave", cave.name}, {"what", AlarmWord(context.words, alarm)}, {"time", time}});
  if (alarm.kind == rules::AlarmKind::kUnwatched)
    return Join({context.words.Say("morning.night.unwatched", {{"cave", cave.name}, {"time", time}}),
                 EdgesWords(context.words, alarm), WhyWords(context.words, alarm)},
                " ");
  if (std::string unknown = UnknownAfter(context.words, alarm.kind); !unknown.empty()) {
    if (AirAfter(alarm) && alarm.warmest) unknown = FurthestWords(context, alarm);
    return context.words.Say(
        "morning.night.blind",
        {{"cave", cave.name}, {"what", BlindWord(context, alarm)}, {"time", time}, {"unknown", unknown}});
  }
  return Join({context.words.Say("morning.night.alarm",
                                 {{"cave", cave.name}, {"what", AlarmWord(context.words, alarm)}, {"time", time}}),
               FurthestWords(context, alarm), LostWords(context, alarm),
               alarm.Unjudged() ? std::string{} : EndingWords(context, alarm)},
              " ");
}

// By when they began.
using Past = std::set<std::pair<Instant, std::string>>;

void Tell(const ApiContext& context, const Past& past, std::vector<PastLine>& into) {
  for (const auto& [at, text] : past) into.push_back({context.book().Home().zone.ToLocal(at), text});
}

}  // namespace

std::vector<Silence> AddPast(const ApiContext& context, Instant told_until, List& list) {
  const rules::Zone& zone = context.book().Home().zone;
  const Instant evening = HourOf(context, Today(context) - days{1}, kEvening);
  const Instant morning = HourOf(context, Today(context), kMorning);
  const Instant midnight = HourOf(context, Today(context), std::chrono::hours{0});
  std::vector<Silence> silences;
  Past night, since, before;
  for (const auto& [id, record] : context.book().AlarmRecords()) {
    const auto alarm = MaybeAlarmFrom(record);
    const CaveRow* cave = alarm ? context.book().Cave(alarm->cave) : nullptr;
    const std::optional<Instant> over = alarm ? alarm->over : std::nullopt;
    if (cave == nullptr || !over || *over > context.now() || *over < told_until || alarm->Folded()) continue;
    const bool by_day = *over < evening;
    if (by_day && alarm->severity < rules::Severity::kWatch) continue;
    // What ended by day is news of the day, whenever it began.
    const bool of_the_day = alarm->LastedUntil() >= morning;
    const Instant began = ToldSince(context.watch, *alarm);
    Past& where = of_the_day ? since : began < evening ? before : night;
    where.emplace(began, PastWords(context, *alarm, *cave, of_the_day ? midnight : evening));
    if (!by_day && alarm->kind == rules::AlarmKind::kProbeSilent)
      silences.push_back({alarm->cave, zone.ToLocal(began), zone.ToLocal(*alarm->over)});
  }
  Tell(context, night, list.night);
  Tell(context, since, list.since);
  Tell(context, before, list.before);
  return silences;
}

Instant ToldUntil(const ApiContext& context) {
  if (const auto told = context.notices ? context.notices->ToldUntil() : std::nullopt) return *told;
  return HourOf(context, Today(context) - days{1}, rules::ListReader{}.morning);
}

}  // namespace rindwatch::morning
