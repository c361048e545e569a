#include <algorithm>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/alarm_views.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/journal_kinds.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/replay/rang.hpp"
#include "daemon/replay/sentences.hpp"
#include "daemon/words/alarm_word.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Alarm;
using rules::Instant;

namespace {

// The ribbon of an alarm stands where it ended, with some of what followed, and reaches to some of what was before it;
// of what lasted for longer than fits only the end is shown.
constexpr rules::Millis kShownAfter = std::chrono::hours{6};
constexpr rules::Millis kShownBefore = std::chrono::hours{6};
constexpr rules::Millis kShownAtMost = std::chrono::hours{72};
constexpr rules::Millis kListed = std::chrono::days{90};
constexpr std::size_t kMostListed = 100;
constexpr std::size_t kLinesAtOnce = 500;
// Its line may have waited, and a clock may have been wrong by hours.
constexpr rules::Millis kRaisedWithin = std::chrono::days{2};

bool IsAbout(const JournalLine& line, const std::string& id) {
  const bool kind = line.kind == "alarm" || line.kind == "take" || line.kind == "called" || line.kind == "aside";
  if (!kind || line.body.find(id) == std::string::npos) return false;
  boost::system::error_code error;
  const json::value body = json::parse(line.body, error);
  if (error || !body.is_object()) return false;
  const json::value* alarm = body.as_object().if_contains("alarm");
  return alarm != nullptr && alarm->is_string() && alarm->as_string() == id;
}

bool IsRaised(const JournalLine& line, const std::string& id) {
  return line.kind == "alarm" && line.id.starts_with(id + " | raised | ");
}

json::array ToldOf(const ApiContext& context, const std::vector<JournalLine>& lines) {
  json::array told;
  for (const JournalLine& line : lines) {
    if (!IsToCome(context, line)) told.push_back(LineJson(context, line));
  }
  return told;
}

using LinesDone = std::function<void(std::vector<JournalLine>)>;

// Page after page, backwards: up to the line by which it rang, which is its first, or to what is older than that can
// be.
void LinesBefore(const ApiContext& context, const Alarm& alarm, std::int64_t before, std::vector<JournalLine> found,
                 LinesDone done) {
  context.store.JournalPage(
      before, kLinesAtOnce,
      [context, alarm, found = std::move(found),
       done = std::move(done)](const std::vector<JournalLine>& lines) mutable {
        bool all = lines.size() < kLinesAtOnce;
        for (const JournalLine& line : lines) {
          if (IsAbout(line, alarm.id)) found.push_back(line);
          all = all || IsRaised(line, alarm.id) || line.received_at < alarm.raised - kRaisedWithin;
        }
        if (!all) return LinesBefore(context, alarm, lines.back().position, std::move(found), std::move(done));
        std::ranges::reverse(found);
        done(std::move(found));
      });
}

// All that was written of it, the oldest first. The newest lines are at hand; what is older the store knows.
void LinesAbout(const ApiContext& context, const Alarm& alarm, const LinesDone& done) {
  std::vector<JournalLine> lines;
  bool whole = false;
  for (const JournalLine& line : context.book().Newest()) {
    if (IsAbout(line, alarm.id)) lines.push_back(line);
    whole = whole || IsRaised(line, alarm.id);
  }
  if (whole) return done(std::move(lines));
  LinesBefore(context, alarm, 0, {}, done);
}

bool IsOfPower(rules::AlarmKind kind) {
  return kind == rules::AlarmKind::kPowerGone || kind == rules::AlarmKind::kUnwatched;
}

// The first of its kind in the house says what a watcher on the fridge's own plug cannot know; later ones do not.
bool IsFirstOfPower(const Book& book, const Alarm& alarm) {
  if (!IsOfPower(alarm.kind)) return false;
  return std::ranges::none_of(book.AlarmRecords(), [&](const auto& one) {
    const auto other = PastAlarm(book, one.first);
    return other && IsOfPower(other->kind) && other->raised < alarm.raised;
  });
}

json::object PageJson(const ApiContext& context, const Alarm& alarm, const std::vector<JournalLine>& lines,
                      json::object cave) {
  json::object page{{"head", HeadJson(context)},
                    {"alarm", AlarmJson(context, alarm)},
                    {"journal", ToldOf(context, lines)},
                    {"of_power", IsFirstOfPower(context.book(), alarm)}};
  if (!cave.empty()) page["cave"] = std::move(cave);
  return page;
}

// How the alarms of the last month did, cave by cave: "It rang 3 times: 2 real, 1 door."
json::array MonthJson(const ApiContext& context) {
  const Instant to = context.now() + rules::Millis{1};
  std::map<rules::CaveId, std::vector<Rung>> by_cave;
  const std::vector<Rung> rang_in_it = RangIn(context.book(), to - kMonthOfAlarms, to, {});
  for (const Rung& rung : rang_in_it) by_cave[rung.cave].push_back(rung);
  json::array array;
  for (const CaveRow* cave : context.book().Caves()) {
    const auto rang = by_cave.find(cave->id);
    if (rang == by_cave.end()) continue;
    const Tally tally = TallyOf(rang->second);
    array.push_back({{"cave", cave->id},
                     {"cave_name", cave->name},
                     {"rang", tally.rang},
                     {"watch", tally.watch},
                     {"sentence", TallySentence(context.words, tally)}});
  }
  return array;
}

web::Response NoAlarm(const web::Request& request) {
  return web::Complain(404, {.what = "There is no such alarm in the book.",
                             .expected = "the id of one that rang",
                             .found = request.path,
                             .action = "Go back and look again."});
}

}  // namespace

namespace {

// What failed beside a band that had moved was judged by the one before, and its ribbon is drawn by that too.
void DrawItsBand(const Alarm& alarm, json::object& cave) {
  json::value* ribbon = cave.if_contains("ribbon");
  const bool warmth = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooCold;
  const bool damp = alarm.kind == rules::AlarmKind::kTooDry || alarm.kind == rules::AlarmKind::kTooDamp;
  if (!ribbon || !alarm.band || !(warmth || damp) || alarm.why == rules::Why::kPlanStep) return;
  for (json::value& step : ribbon->at("bands").as_array())
    SetSpan(step.as_object(), warmth ? "temperature" : "humidity", alarm.band);
}

}  // namespace

void AlarmPageJson(const ApiContext& context, const std::string& id, JsonDone done) {
  const auto alarm = FindAlarm(context, id);
  if (!alarm) return done({});
  const CaveRow* cave = context.book().Cave(alarm->cave);
  if (!cave)
    return LinesAbout(context, *alarm, [context, alarm = *alarm, done = std::move(done)](const auto& lines) {
      done(PageJson(context, alarm, lines, {}));
    });
  const Instant to = alarm->over ? std::min(context.now(), *alarm->over + kShownAfter) : context.now();
  const Instant from = std::max(std::min(alarm->since - kShownBefore, to - kRibbon), to - kShownAtMost);
  CaveJson(context, *cave, from, to, [context, alarm = *alarm, done = std::move(done)](json::object object) {
    DrawItsBand(alarm, object);
    LinesAbout(context, alarm, [context, alarm, object = std::move(object), done](const auto& lines) {
      // It may have been taken while the store was asked.
      done(PageJson(context, FindAlarm(context, alarm.id).value_or(alarm), lines, object));
    });
  });
}

json::object AlarmsJson(const ApiContext& context) {
  json::array past;
  std::vector<Alarm> alarms = AlarmsSince(context.book(), context.now() - kListed);
  // By what they are labelled with: when they began, the newest first.
  std::ranges::stable_sort(alarms, std::ranges::greater{}, &Alarm::since);
  for (const Alarm& alarm : alarms) {
    if (alarm.over && past.size() < kMostListed) past.push_back(AlarmJson(context, alarm));
  }
  return {{"head", HeadJson(context)}, {"past", std::move(past)}, {"month", MonthJson(context)}};
}

void AddAlarmRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/alarms",
             [&context](const web::Request&, const web::Answer& answer) { answer(JsonResponse(AlarmsJson(context))); });
  router.Get("/api/alarms/{alarm}", [&context](const web::Request& request, const web::Answer& answer) {
    AlarmPageJson(context, std::string(request.Name("alarm")), [answer, request](const json::object& page) {
      answer(page.empty() ? NoAlarm(request) : JsonResponse(page));
    });
  });
}

std::vector<rules::Alarm> AlarmsAsTold(const ApiContext& context) {
  const auto rank = [&](const rules::Alarm& alarm) {
    if (alarm.over) return 4;
    const bool acts = alarm.severity >= rules::Severity::kAct, urgent = alarm.severity == rules::Severity::kUrgent;
    // People first, also once somebody took it; a quiet word of gas leads nothing that wants a hand.
    if (rules::IsGas(alarm.kind)) return acts ? -4 : -1;
    if (acts && alarm.Rings() && DarkensGas(context.book(), alarm)) return -4;
    if (CanWait(alarm.kind, alarm.why)) return 3;
    if (alarm.taken) return 2;
    if (!alarm.Rings()) return 1;
    return urgent ? -3 : acts ? -2 : 0;
  };
  std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  // What ends at an instant that has not come was told by a clock that was ahead.
  std::erase_if(alarms, [&](const rules::Alarm& alarm) {
    return alarm.Folded() || (alarm.over && HasNotCome(context, *alarm.over));
  });
  std::ranges::stable_sort(alarms, {}, rank);
  return alarms;
}

}  // namespace rindwatch
