#include <algorithm>
#include <map>
#include <memory>
#include <set>

#include "daemon/api/air_days.hpp"
#include "daemon/api/cadence_word.hpp"
#include "daemon/api/days_lost.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/qualifying_json.hpp"
#include "daemon/api/ribbon.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/wheel_air.hpp"
#include "daemon/api/wheel_state_json.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/book/parts.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/ahead/way.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Instant;

namespace {

constexpr std::chrono::days kLookAhead{30};
constexpr std::size_t kNextCares = 3;

std::string CareWords(const Words& words, const rules::Care& care) {
  std::string text;
  for (const auto* kinds : {&care.kinds, &care.brings}) {
    for (const rules::CareKind kind : *kinds) {
      if (!text.empty()) text += ", ";
      text += words.Say("care." + std::string(rules::ToText(kind)));
    }
  }
  const std::string cadence = CadenceWord(words, care.cadence);
  return cadence.empty() ? text : text + " " + cadence;
}

json::object StageJson(const Words& words, const rules::WayStage& lived) {
  const rules::Stage& stage = *lived.stage;
  json::object object{{"name", stage.name}, {"state", rules::ToText(stage.state)}, {"from", DayJson(lived.from)}};
  if (lived.to) object["to"] = DayJson(*lived.to);
  if (lived.on_word) object["on_word"] = true;
  SetSpan(object, "temperature", stage.temperature_band);
  SetSpan(object, "humidity", stage.humidity_band);
  SetSpan(object, "target_temperature", stage.temperature_target);
  SetSpan(object, "target_humidity", stage.humidity_target);
  json::array cares;
  for (const rules::Care& care : stage.cares) cares.push_back(json::string(CareWords(words, care)));
  object["cares"] = std::move(cares);
  return object;
}

// The wheel's whole way; where another plan begins to rule, its family is named.
json::array StagesJson(const ApiContext& context, const WheelRow& wheel) {
  json::array stages;
  const auto calendar = context.book().CalendarOf(context.book().PlaceOf(wheel).cave);
  const rules::Plan* before = nullptr;
  for (const rules::WayStage& lived : rules::WayOf(wheel.History(), calendar, context.now())) {
    json::object& stage = stages.emplace_back(StageJson(context.words, lived)).as_object();
    if (before && before->id != lived.plan->id) stage["family"] = ShortFamily(*lived.plan);
    before = lived.plan;
  }
  return stages;
}

// A wheel that left lives no stage to come. Days as the API writes them: their order is that of their texts.
json::array Until(const json::array& stages, const json::string& last) {
  json::array lived;
  for (const json::value& stage : stages) {
    if (stage.at("from").as_string() > last) continue;
    json::object& one = lived.emplace_back(stage).as_object();
    if (const json::value* to = one.if_contains("to"); !to || to->as_string() > last) one["to"] = last;
  }
  return lived;
}

json::array CaresJson(const Book& book, const WheelRow& wheel) {
  auto acts = wheel.History().acts;
  std::ranges::stable_sort(acts, {}, &rules::CareAct::at);
  json::array array;
  for (const rules::CareAct& act : acts) {
    const bool before_watch = act.id.Text().starts_with(wheel.act.Text());
    json::object object{{"at", ToMillis(act.at)},
                        {"day", DayJson(book.Home().DayOf(act.at))},
                        {"kinds", KindsJson(act.done.List())},
                        {"skipped", KindsJson(act.skipped.List())},
                        {"id", ActOf(act.id).Text()},
                        {"undone", book.IsUndone(act.id, wheel.id)},
                        {"before_watch", before_watch},
                        // The word that all was fine is one act of many doings.
                        {"not_written", !before_watch && !act.id.IsDigits()}};
    if (!act.reason.Empty()) object["reason"] = act.reason.Text();
    if (const std::string* keeper = book.KeeperOf(ActOf(act.id))) object["keeper"] = *keeper;
    array.push_back(std::move(object));
  }
  return array;
}

json::array NextJson(const ApiContext& context, const WheelRow& wheel, const rules::Schedule& schedule) {
  json::array next;
  for (const rules::CareLine& line : schedule.lines) {
    if (!line.OnRound() && line.state != rules::CareState::kNotYet && line.state != rules::CareState::kOpen) continue;
    next.push_back(
        {{"kinds", KindsJson(line.kinds)}, {"due", DayJson(line.due)}, {"window_end", DayJson(line.window_end)}});
  }
  if (!next.empty()) return next;
  const auto calendar = context.book().CalendarOf(context.book().PlaceOf(wheel).cave);
  const rules::Date last = calendar.turn.DayOf(context.now()) + kLookAhead;
  for (const rules::ComingCare& care : rules::ComingCares(wheel.History(), calendar, context.now(), last)) {
    next.push_back(
        {{"kinds", KindsJson(care.kinds)}, {"due", DayJson(care.due)}, {"window_end", DayJson(care.window_end)}});
    if (next.size() == kNextCares) break;
  }
  return next;
}

// Once cares whose stage ended before they were done.
json::array NotDoneJson(const ApiContext& context, const WheelRow& wheel) {
  const auto& calendar = context.book().CalendarOf(context.book().PlaceOf(wheel).cave);
  json::array array;
  for (const rules::CareLine& line : rules::NotDoneAt(wheel.History(), calendar, context.now())) {
    array.push_back({{"kinds", KindsJson(line.kinds)}, {"due", DayJson(line.due)}});
  }
  return array;
}

bool Touches(const json::object& record, rules::WheelId wheel) {
  const auto wheels = fields::Wheels(record, "wheels");
  return std::ranges::find(wheels, wheel) != wheels.end();
}

// Air that was dry or damp long before it was warm is a part of the wheel's life by itself.
bool IsOfOneEvent(const json::object& record, const json::object& teller) {
  constexpr rules::Millis kBefore = std::chrono::hours{1};
  const auto kind = KindIn(record);
  const bool humid = kind == rules::AlarmKind::kTooDry || kind == rules::AlarmKind::kTooDamp;
  return !humid || kind == KindIn(teller) || fields::At(record, "since") >= fields::At(teller, "since") - kBefore;
}

// The alarm that tells of this one to whoever keeps the wheel: what another tells of the same event, where that touches
// the wheel too, and so on. Its own where none does.
std::string TellerFor(const Book& book, const std::string& alarm, rules::WheelId wheel) {
  std::set<std::string> seen{alarm};
  std::string teller = alarm;
  while (true) {
    const json::object& told = book.AlarmRecords().at(teller);
    const auto by = book.AlarmRecords().find(fields::TextOr(told, "told_by", ""));
    if (by == book.AlarmRecords().end() || !Touches(by->second, wheel) || !IsOfOneEvent(told, by->second)) break;
    if (!seen.insert(by->first).second) break;
    teller = by->first;
  }
  return teller;
}

// Of one event what the wheel's own place says goes before what the place around it does: its air left at another hour
// and came less far. As far as they have come by now.
std::vector<rules::Alarm> OwnOf(const ApiContext& context, const rules::Alarm& teller,
                                const std::set<std::string>& all) {
  std::vector<rules::Alarm> own;
  for (const std::string& id : all) {
    const auto alarm = FindAlarm(context, id);
    if (alarm && alarm->kind == teller.kind && alarm->cave != teller.cave) own.push_back(*alarm);
  }
  if (own.empty()) own.push_back(teller);
  return own;
}

json::object ExcursionJson(const ApiContext& context, const rules::Alarm& teller, const std::set<std::string>& all) {
  json::object object{{"kind", rules::ToText(teller.kind)}, {"why", rules::ToText(teller.why)}};
  const std::vector<rules::Alarm> own = OwnOf(context, teller, all);
  Instant from = Instant::max(), to = Instant::min();
  double extreme = own.front().extreme;
  rules::Millis beyond{0};
  const bool low = teller.kind == rules::AlarmKind::kTooCold || teller.kind == rules::AlarmKind::kTooDry;
  for (const rules::Alarm& alarm : own) {
    from = std::min(from, ToldSince(context.watch, alarm));
    // It lasted until the air was back, not until that was believed.
    to = std::max(to, alarm.over ? alarm.LastedUntil() : Instant::max());
    beyond += alarm.beyond;
    extreme = low ? std::min(extreme, alarm.extreme) : std::max(extreme, alarm.extreme);
  }
  object["from"] = ToMillis(from);
  object["extreme"] = extreme;
  if (to != Instant::max()) object["to"] = ToMillis(to);
  const bool of_air = rules::IsOfBand(teller.kind) && teller.why != rules::Why::kPlanStep;
  const bool counted =
      std::ranges::all_of(own, [](const rules::Alarm& alarm) { return alarm.beyond > rules::Millis{0}; });
  if (of_air && to != Instant::max() && counted) object["beyond"] = beyond.count();
  if (const std::string* what = context.book().CalledAs(teller.id)) object["what"] = *what;
  return object;
}

// One event is told once, with the days that all its alarms cost.
json::array ExcursionsJson(const ApiContext& context, const WheelRow& wheel) {
  const Book& book = context.book();
  struct Event {
    std::set<std::string> alarms;
    std::set<rules::Date> lost;
  };
  std::map<std::string, Event> events;
  for (const auto& [id, record] : book.AlarmRecords()) {
    if (!Touches(record, wheel.id)) continue;
    Event& event = events[TellerFor(book, id, wheel.id)];
    event.alarms.insert(id);
    const auto alarm = MaybeAlarmFrom(record);
    const std::vector<rules::Date> cost = alarm ? DaysLostBy(book, *alarm, wheel.id) : std::vector<rules::Date>{};
    event.lost.insert(cost.begin(), cost.end());
  }
  json::array array;
  for (const auto& [id, event] : events) {
    const auto teller = FindAlarm(context, id);
    // A record that this program cannot read is of one that wrote it otherwise.
    if (!teller) continue;
    json::object object = ExcursionJson(context, *teller, event.alarms);
    json::array uncounted;
    for (const rules::Date day : event.lost) uncounted.push_back(DayJson(day));
    if (!uncounted.empty()) object["uncounted"] = std::move(uncounted);
    array.push_back(std::move(object));
  }
  return array;
}

// The least and most of the air of each keeper's day, where the wheel lay.
json::array ClimateJson(const Book& book, const std::vector<Bucket>& buckets) {
  std::map<rules::Date, std::pair<double, double>> by_day;
  for (const Bucket& bucket : buckets) {
    const auto [found, is_new] = by_day.try_emplace(book.Home().DayOf(bucket.from), bucket.min, bucket.max);
    if (is_new) continue;
    found->second.first = std::min(found->second.first, bucket.min);
    found->second.second = std::max(found->second.second, bucket.max);
  }
  json::array array;
  for (const auto& [day, span] : by_day) {
    array.push_back({{"day", DayJson(day)}, {"low", span.first}, {"high", span.second}});
  }
  return array;
}

json::array BandsJson(const std::vector<BandFrom>& bands) {
  json::array array;
  for (const BandFrom& band : bands) {
    json::object one{{"from", ToMillis(band.from)}};
    SetSpan(one, "temperature", band.temperature);
    array.push_back(std::move(one));
  }
  return array;
}

// What the air was to the wheel, as far as it is known.
void AddAir(json::object& page, const ApiContext& context, const WheelRow& wheel, std::vector<Bucket> hours) {
  std::ranges::stable_sort(hours, {}, &Bucket::from);
  const Instant until = wheel.History().gone.value_or(context.now());
  const std::vector<BandFrom> bands = BandsOf(context.book(), wheel, until);
  page["climate"] = ClimateJson(context.book(), hours);
  page["bands"] = BandsJson(bands);
  page["unknown"] = UnknownAir(hours, until);
  if (const auto outside = OutsideNow(context, wheel, bands, hours)) {
    json::object told{{"since", ToMillis(outside->since)}, {"side", outside->side}, {"mean", outside->mean}};
    SetSpan(told, "band", outside->band);
    page["outside"] = std::move(told);
  }
}

}  // namespace

void WheelPageJson(const ApiContext& context, const WheelRow& wheel, JsonDone done) {
  const auto spans = AirWhereItLay(context.book(), wheel, wheel.History().gone.value_or(context.now()));
  struct All {
    std::vector<Bucket> buckets;
    std::size_t waiting = 0;
  };
  auto all = std::make_shared<All>();
  all->waiting = spans.size() + 1;
  const auto arrived = [context, all, id = wheel.id, done = std::move(done)] {
    if (--all->waiting != 0) return;
    const Book& book = context.book();
    const WheelRow* row = book.Wheel(id);
    if (!row) return done({});
    const rules::Schedule schedule = ScheduleOf(context, *row);
    if (!schedule.standing.plan) return done({});
    const auto gone = row->History().gone;
    json::array stages = StagesJson(context, *row);
    if (gone) stages = Until(stages, json::value(DayJson(book.Home().DayOf(*gone))).as_string());
    json::array cautions;
    for (const std::string& caution : schedule.standing.plan->cautions) cautions.push_back(json::string(caution));
    json::object page{{"head", HeadJson(context)},
                      {"wheel", WheelSummary(context, *row, schedule)},
                      {"stages", std::move(stages)},
                      {"cares", CaresJson(book, *row)},
                      {"next", gone ? json::array{} : NextJson(context, *row, schedule)},
                      {"not_done", NotDoneJson(context, *row)},
                      {"excursions", ExcursionsJson(context, *row)},
                      {"cautions", std::move(cautions)},
                      {"entered", ToMillis(row->History().entered)},
                      {"weighings", WeighingsJson(book, *row)}};
    AddAir(page, context, *row, std::move(all->buckets));
    if (row->weight.value > 0) page["grams_at_entry"] = row->weight.value;
    AgesOf(context, {id}, [context, id, page = std::move(page), done](const QualifyingAges& ages) mutable {
      const WheelRow* ruled = context.book().Wheel(id);
      if (const auto age = ages.find(id);
          ruled != nullptr && age != ages.end() && context.book().RuleOf(*ruled) != nullptr) {
        page["wheel"].as_object()["qualifying"] = QualifyingJson(context, *ruled, age->second);
      }
      done(std::move(page));
    });
  };
  const auto doubts = DoubtsIn(context.book(), wheel.History().entered, context.now());
  for (const HungSpan& span : spans) {
    context.store.History(
        span.channel, span.from, span.to, kAirHour,
        [all, arrived, of_it = DoubtsOf(context.book(), doubts, span.channel)](std::vector<Bucket> buckets) {
          // What a stuck probe said is nothing that the wheel went through.
          TakeDoubted(buckets, of_it, kAirHour);
          all->buckets.insert(all->buckets.end(), buckets.begin(), buckets.end());
          arrived();
        });
  }
  arrived();
}

}  // namespace rindwatch
