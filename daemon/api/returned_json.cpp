#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/air_days.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/lives.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/newest.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareKind;
using rules::Date;
using rules::Instant;

namespace {

struct Span {
  Instant from, to;
};

Span SpanOf(const ApiContext& context, const AwayQuestion& question) {
  const auto& turn = context.book().Home();
  return {turn.StartOf(question.from), std::min(turn.StartOf(question.back), context.now())};
}

bool Asked(const AwayQuestion& question, const CaveRow* cave) {
  return question.caves.empty() || (cave != nullptr && std::ranges::count(question.caves, cave->id) > 0);
}

// What was done meanwhile, by act and place.
json::array DoneJson(const Book& book, const AwayQuestion& question, const Span& span) {
  struct Line {
    std::vector<CareKind> kinds;
    std::size_t count = 0;
  };
  std::map<std::tuple<Instant, rules::ActId, std::string>, Line> lines;
  for (const WheelRow* wheel : book.Wheels()) {
    for (const rules::CareAct& act : wheel->History().acts) {
      if (act.at < span.from || act.at >= span.to || book.IsUndone(act.id, wheel->id)) continue;
      // Where it lay then: it may have moved since.
      const Place* then = AsOf(book, wheel->places, wheel->id, act.at);
      const Place place = then ? *then : book.PlaceOf(*wheel);
      const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
      if (!Asked(question, cave)) continue;
      Line& line = lines[{act.at, act.id, PlaceName(book, cave, place.shelf)}];
      for (const CareKind kind : act.done) {
        if (!rules::Contains(line.kinds, kind)) line.kinds.push_back(kind);
      }
      ++line.count;
    }
  }
  json::array array;
  for (const auto& [key, line] : lines) {
    const auto& [at, act, place] = key;
    if (line.kinds.empty()) continue;
    json::object object{
        {"at", ToMillis(at)}, {"kinds", KindsJson(line.kinds)}, {"place", place}, {"count", line.count}};
    if (const std::string* keeper = book.KeeperOf(act)) object["keeper"] = *keeper;
    array.push_back(std::move(object));
  }
  return array;
}

// What fell due meanwhile and nobody did, as it stood on the return; what was late before is not of this absence.
json::array NotVisitedJson(const Book& book, const AwayQuestion& question, const Span& span) {
  std::map<std::tuple<Date, std::string, std::vector<CareKind>>, std::size_t> lines;
  for (const Life& life : LivesOf(book)) {
    if (!Asked(question, life.cave)) continue;
    auto calendar = book.CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
    // By the days as they were due, not as the return moved them.
    std::erase_if(calendar.away, [&](Date day) { return question.from <= day && day < question.back; });
    const auto schedule =
        rules::ScheduleAt(life.First().History(), calendar, std::max(span.from, span.to - rules::Millis{1}));
    for (const rules::CareLine& line : schedule.lines) {
      if (!line.OnRound() || line.due < question.from) continue;
      for (const WheelRow* wheel : life.wheels) {
        ++lines[{line.due, PlaceName(book, life.cave, book.PlaceOf(*wheel).shelf), line.kinds}];
      }
    }
  }
  json::array array;
  for (const auto& [key, count] : lines) {
    const auto& [due, place, kinds] = key;
    array.push_back({{"place", place}, {"kinds", KindsJson(kinds)}, {"count", count}, {"due", DayJson(due)}});
  }
  return array;
}

json::array AlarmsJson(const Book& book, const AwayQuestion& question, const Span& span) {
  struct Told {
    std::int64_t since;
    json::object object;
  };
  std::vector<Told> told;
  for (const auto& [id, record] : book.AlarmRecords()) {
    const CaveRow* cave = book.Cave(record.at("cave").to_number<std::int64_t>());
    const auto since = record.at("since").to_number<std::int64_t>();
    const bool over = !record.at("over").is_null();
    const auto until = over ? record.at("over").to_number<std::int64_t>() : ToMillis(span.to);
    if (!Asked(question, cave) || since >= ToMillis(span.to) || until < ToMillis(span.from)) continue;
    json::object object{{"kind", record.at("kind")},
                        {"cave_name", cave ? cave->name : std::string{}},
                        {"from", since},
                        {"extreme", record.at("extreme")}};
    if (const json::value* why = record.if_contains("why")) object["why"] = *why;
    if (over) object["to"] = until;
    if (const std::string* what = book.CalledAs(id)) object["what"] = *what;
    told.push_back({since, std::move(object)});
  }
  std::ranges::stable_sort(told, {}, &Told::since);
  json::array array;
  for (Told& one : told) array.push_back(std::move(one.object));
  return array;
}

std::size_t QuestionsNow(const Book& book, const AwayQuestion& question, Instant now) {
  std::size_t questions = 0;
  for (const Life& life : LivesOf(book)) {
    if (!Asked(question, life.cave)) continue;
    const auto& calendar = book.CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
    questions += rules::ScheduleAt(life.First().History(), calendar, now).questions.size();
  }
  return questions;
}

// One cave's air meanwhile: the extremes of its quarter hours, and how long nothing was recorded.
json::object CaveAirJson(const CaveRow& cave, std::vector<Bucket> quarters, const Span& span) {
  std::ranges::sort(quarters, {}, &Bucket::from);
  json::object object{{"cave", cave.id}, {"name", cave.name}};
  rules::Millis unknown{0};
  Instant spoke = span.from;
  std::optional<double> low, high;
  const auto silent = [&](Instant until) {
    if (until - spoke > rules::kLongestSilence) unknown += until - spoke;
  };
  for (const Bucket& bucket : quarters) {
    low = std::min(low.value_or(bucket.mean), bucket.mean);
    high = std::max(high.value_or(bucket.mean), bucket.mean);
    silent(bucket.from);
    spoke = std::max(spoke, bucket.from + kQuarterHour);
  }
  silent(span.to);
  SetNumber(object, "low", low);
  SetNumber(object, "high", high);
  object["unknown_hours"] = std::chrono::duration<double, std::ratio<3600>>(unknown).count();
  return object;
}

struct Gathering {
  std::map<rules::CaveId, std::vector<Bucket>> quarters;
  std::size_t waiting = 1;
};

}  // namespace

void ReturnedJson(const ApiContext& context, const AwayQuestion& question, JsonDone done) {
  const Span span = SpanOf(context, question);
  auto all = std::make_shared<Gathering>();
  std::vector<std::pair<rules::CaveId, HungSpan>> asks;
  // Only caves with a probe of their own: what is borrowed is told by the cave it is borrowed from.
  for (const CaveRow* cave : context.book().Caves()) {
    if (!Asked(question, cave)) continue;
    for (const HungSpan& hung :
         ChannelsOf(context.book(), cave->id, rules::ChannelKind::kTemperature, span.from, span.to)) {
      asks.emplace_back(cave->id, hung);
      all->quarters[cave->id];
    }
  }
  all->waiting += asks.size();
  const auto arrived = [context, question, span, all, done = std::move(done)] {
    if (--all->waiting != 0) return;
    const Book& book = context.book();
    json::array caves;
    for (const CaveRow* cave : book.Caves()) {
      const auto quarters = all->quarters.find(cave->id);
      if (quarters != all->quarters.end()) caves.push_back(CaveAirJson(*cave, quarters->second, span));
    }
    done({{"head", HeadJson(context)},
          {"from", DayJson(question.from)},
          {"back", DayJson(question.back)},
          {"done", DoneJson(book, question, span)},
          {"not_visited", NotVisitedJson(book, question, span)},
          {"caves", std::move(caves)},
          {"alarms", AlarmsJson(book, question, span)},
          {"questions", QuestionsNow(book, question, context.now())}});
  };
  for (const auto& [cave, hung] : asks) {
    context.store.History(hung.channel, hung.from, hung.to, kQuarterHour,
                          [all, arrived, id = cave](const std::vector<Bucket>& buckets) {
                            auto& quarters = all->quarters[id];
                            quarters.insert(quarters.end(), buckets.begin(), buckets.end());
                            arrived();
                          });
  }
  arrived();
}

}  // namespace rindwatch
