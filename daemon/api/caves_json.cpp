#include <algorithm>
#include <iterator>
#include <map>
#include <memory>
#include <tuple>

#include "daemon/api/band_steps.hpp"
#include "daemon/api/cave_news.hpp"
#include "daemon/api/gas_json.hpp"
#include "daemon/api/journal_kinds.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/ribbon.hpp"
#include "daemon/api/round_lines.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/unknown.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/wanted.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/clock/clocks.hpp"
#include "rules/alarms/ahead.hpp"
#include "rules/alarms/channels.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CaveView;
using rules::ChannelView;
using rules::Instant;

namespace {

constexpr rules::Millis kStillNow = std::chrono::minutes{30};

json::object ChannelJson(const Watch& watch, const CaveRow& cave, const ChannelView& view) {
  json::object object{{"state", rules::ToText(view.state)},
                      {"watched", view.watched},
                      {"borrowed", view.borrowed},
                      {"judged", view.band.has_value()},
                      {"side", view.side}};
  // The mean of probes that contradict each other is no measurement.
  const bool odds = view.contradicted && view.state == rules::CaveState::kUnknown;
  if (!odds) SetNumber(object, "mean", view.mean);
  if (odds) object["odds"] = {{"low", *view.lowest}, {"high", *view.highest}};
  SetNumber(object, "latest", view.latest);
  SetAt(object, "latest_at", view.latest_at);
  if (HoldsTarget(view)) SetSpan(object, "target", view.target);
  SetSpan(object, "band", view.band);
  if (const auto dated = DatedOf(watch, cave, view)) SetAt(object, "silent_since", dated->Since());
  return object;
}

// Odds are said by their figures.
void AddWhy(const ApiContext& context, const CaveRow& cave, const ChannelView& view, json::object& channel) {
  if (view.state != rules::CaveState::kUnknown || channel.contains("odds")) return;
  if (JustUnwatched(context, cave, view)) channel.erase("silent_since");
  const std::string why = UnknownWords(context.words, WhyUnknown(context, cave, view));
  if (!why.empty()) channel["unknown_why"] = why;
}

json::object BoardWheelJson(const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  return {{"id", wheel.id},
          {"state", StateWord(book, wheel, standing)},
          {"number", book.NumberOf(wheel)},
          {"lot", wheel.lot},
          {"marked", !book.MarksOf(wheel).empty()},
          {"held", book.HoldOf(wheel) != nullptr},
          {"cut", book.CutOf(wheel) != nullptr}};
}

// The boards of a cave in walking order, each with its wheels from the door on; wheels without a board first.
json::array BoardsJson(const Book& book, const CaveRow& cave, Instant now) {
  std::map<std::string, std::vector<const WheelRow*>> boards;
  for (const WheelRow* wheel : book.Wheels()) {
    const Place place = book.PlaceOf(*wheel);
    if (place.cave == cave.id) boards[place.shelf].push_back(wheel);
  }
  std::vector<std::string> names = book.ShelvesOf(cave);
  names.insert(names.begin(), std::string{});
  json::array array;
  for (const std::string& name : names) {
    const auto board = boards.find(name);
    if (board == boards.end()) continue;
    std::ranges::sort(board->second, {}, [&](const WheelRow* wheel) { return book.NumberOf(*wheel); });
    json::array wheels;
    for (const WheelRow* wheel : board->second) {
      wheels.push_back(
          BoardWheelJson(book, *wheel, rules::StandingAt(wheel->History(), book.CalendarOf(cave.id), now)));
    }
    array.push_back({{"place", name}, {"wheels", std::move(wheels)}});
  }
  return array;
}

// By name: which lot, and where it lies if that is not the whole cave.
json::array UnsuitedJson(const ApiContext& context, const CaveRow& cave, const CaveView& view) {
  const Book& book = context.book();
  std::map<std::tuple<std::string, std::string, std::string>, std::size_t> wheels;
  for (const rules::WheelId id : view.does_not_suit) {
    const WheelRow* wheel = book.Wheel(id);
    if (!wheel || (cave.watching_now.ready_cheese && IsReady(context, *wheel))) continue;
    ++wheels[{book.FamilyOf(*wheel), RoundLotName(book, wheel->lot), PlaceName(book, book.PlaceOf(*wheel))}];
  }
  json::array array;
  for (const auto& [which, count] : wheels) {
    const auto& [family, lot, place] = which;
    array.push_back({{"count", count}, {"family", family}, {"lot", lot}, {"place", place}});
  }
  return array;
}

// The target that all its wheels share; else whose target the band in force does not hold.
void AddWanted(json::object& object, const Book& book, const CaveRow& cave, const CaveView& view, Instant now) {
  json::array array;
  for (const ChannelView* channel : {&view.temperature, &view.humidity}) {
    const Wanted wanted = WantedOf(book, cave, view, *channel, now);
    json::object& told = object[channel == &view.temperature ? "temperature" : "humidity"].as_object();
    told.erase("target");
    SetSpan(told, "target", wanted.target);
    for (const Wanted::Beyond& beyond : wanted.beyond) {
      std::map<std::string, std::size_t> families;
      for (const rules::WheelId id : beyond.wheels) ++families[book.FamilyOf(*book.Wheel(id))];
      json::array wheels;
      for (const auto& [family, count] : families) wheels.push_back({{"count", count}, {"family", family}});
      json::object want{{"channel", channel == &view.temperature ? "temperature" : "humidity"},
                        {"wheels", std::move(wheels)}};
      SetSpan(want, "target", beyond.target);
      array.push_back(std::move(want));
    }
  }
  if (!array.empty()) object["wants"] = std::move(array);
}

// Rounds that touched the cave: somebody was at its door. And the shapes that its air made and the watch knows.
json::array MarksJson(const Book& book, const CaveRow& cave, const CaveView& view, Instant from, Instant to) {
  json::array marks;
  for (const JournalLine& line : book.Newest()) {
    const bool here = line.kind == "care" && line.cave == cave.id && !book.IsUndone(line.id);
    if (here && line.at >= from && line.at <= to) marks.push_back({{"at", ToMillis(line.at)}, {"kind", "round"}});
  }
  for (const rules::Shape& shape : view.shapes) {
    if (shape.until < from || shape.from > to) continue;
    marks.push_back(
        {{"at", ToMillis(shape.from)}, {"until", ToMillis(shape.until)}, {"kind", rules::ToText(shape.kind)}});
  }
  return marks;
}

json::array AheadJson(const std::vector<rules::AirSpan>& spans, Instant now) {
  json::array array;
  for (const rules::AirSpan& span : spans) {
    const auto at = now + std::chrono::duration_cast<rules::Millis>(std::chrono::duration<double>(span.seconds));
    array.push_back({{"at", ToMillis(at)}, {"low", span.low}, {"high", span.high}});
  }
  return array;
}

// Whoever is there, and what its limits leave out.
void AddWatch(json::object& object, const ApiContext& context, const CaveRow& cave, const CaveView& view) {
  SetAt(object, "here_until", rules::HereUntil(context.watch.Engine(), cave.id, context.now()));
  json::array who;
  for (const std::string& keeper : WhoIsHere(context, cave.id)) who.push_back(json::string(keeper));
  if (!who.empty()) object["here_by"] = std::move(who);
  SetAt(object, "quiet_until", view.quiet_until);
  if (json::array gas = GasJson(context.watch, cave); !gas.empty()) object["gas"] = std::move(gas);
  json::array out;
  for (const rules::AlarmKind kind : cave.watching_now.out_of_service) out.push_back(json::string(rules::ToText(kind)));
  if (!out.empty()) object["out_of_service"] = std::move(out);
  if (cave.watching_now.ready_cheese) object["ready_cheese"] = true;
}

json::array PointsJson(const std::vector<TracePoint>& points) {
  json::array array;
  for (const TracePoint& point : points) array.push_back(json::array{ToMillis(point.at), point.mean});
  return array;
}

// What a stuck or wet probe left unknown: who said it, and of which channel.
json::array DoubtsJson(const Book& book, const Trace& trace) {
  json::array array;
  for (const auto* spans : {&trace.temperature_doubted, &trace.humidity_doubted}) {
    for (const DoubtedSpan& span : *spans) {
      const ProbeRow* probe = book.Probe(span.probe);
      array.push_back({{"from", ToMillis(span.from)},
                       {"to", ToMillis(span.to)},
                       {"channel", spans == &trace.temperature_doubted ? "temperature" : "humidity"},
                       {"kind", rules::ToText(span.kind)},
                       {"probe", probe ? probe->name : std::string{}}});
    }
  }
  return array;
}

// What the cave's probes said before a clock was believed was kept, and nobody judged it: from when to when.
std::vector<Gap> HeldSpans(const Book& book, const CaveRow& cave, Instant from, Instant to) {
  auto hung = AirOf(book, cave, from, to);
  std::ranges::copy(ChannelsOf(book, cave.id, rules::ChannelKind::kHumidity, from, to), std::back_inserter(hung));
  std::vector<Gap> spans;
  for (const JournalLine& line : book.Newest()) {
    if (line.kind != "started" || line.at < from || line.at > to) continue;
    const json::value body = json::parse(line.body);
    const json::value* heard = body.as_object().if_contains("heard");
    if (!heard || !heard->is_array()) continue;
    // In the order in which they were said.
    for (const json::value& word : heard->as_array()) {
      const auto said = fields::MaybeAt(word.as_object(), "at");
      const auto channel = fields::Whole(word.as_object(), "channel");
      if (!said || *said >= line.at || std::ranges::find(hung, channel, &HungSpan::channel) == hung.end()) continue;
      spans.push_back({*said, line.at});
      break;
    }
  }
  return spans;
}

json::array GapsJson(const std::vector<Gap>& gaps, const std::vector<Gap>& held, Instant to) {
  json::array array;
  for (const Gap& gap : gaps) {
    // What was told by a clock that was ahead ends no later than what is shown, and none outlasts what was kept.
    Instant end = std::min(gap.to, to);
    for (const Gap& kept : held)
      if (kept.from > gap.from) end = std::min(end, kept.from);
    if (gap.from < end) array.push_back({{"from", ToMillis(gap.from)}, {"to", ToMillis(end)}});
  }
  return array;
}

json::array SpansJson(const std::vector<Gap>& spans) {
  json::array array;
  for (const Gap& span : spans) array.push_back({{"from", ToMillis(span.from)}, {"to", ToMillis(span.to)}});
  return array;
}

json::object WithRibbon(const ApiContext& context, const CaveRow& cave, const CaveView& view, const Trace& trace,
                        Instant from, Instant to) {
  json::object object = CaveStateJson(context.watch, cave, view);
  DropFuture(object, context.now());
  for (const ChannelView* channel : {&view.temperature, &view.humidity}) {
    json::object& told = object.at(channel == &view.temperature ? "temperature" : "humidity").as_object();
    AddWhy(context, cave, *channel, told);
    SetAt(told, "out_by", OutBy(context, cave, *channel));
  }
  AddWatch(object, context, cave, view);
  object["boards"] = BoardsJson(context.book(), cave, to);
  object["does_not_suit"] = UnsuitedJson(context, cave, view);
  AddWanted(object, context.book(), cave, view, to);
  const std::vector<Gap> held = HeldSpans(context.book(), cave, from, to);
  object["gaps"] = GapsJson(AsTold(context.book(), cave, view, trace.gaps, to), held, to);
  if (!held.empty()) object["held"] = SpansJson(held);
  if (json::array doubts = DoubtsJson(context.book(), trace); !doubts.empty()) object["doubts"] = std::move(doubts);
  // While the store was asked the clock went on, in a trial by minutes.
  const Instant now = context.now();
  const bool is_now = now - to < kStillNow, is_of_a_day = to - from == kRibbon;
  object["ribbon"] = {
      {"from", ToMillis(from)},
      {"to", ToMillis(to)},
      {"temperature", PointsJson(trace.temperature)},
      {"humidity", PointsJson(trace.humidity)},
      {"bands", StepsJson(is_now && is_of_a_day ? context.bands->UpToNow(context.book(), cave, view, from, to)
                                                : BandSteps(context.book(), cave, is_now ? &view : nullptr, from, to))},
      {"marks", MarksJson(context.book(), cave, view, from, to)}};
  if (const auto cycle = rules::PlantCycleOf(context.watch.Engine(), cave.id, now); is_now && cycle) {
    object["plant_cycle"] = {{"minutes", std::chrono::round<std::chrono::minutes>(cycle->period).count()},
                             {"swing", cycle->swing}};
    object["ribbon"].at("marks").as_array().push_back(
        {{"at", ToMillis(cycle->from)}, {"until", ToMillis(to)}, {"kind", "plant cycle"}});
  }
  const auto ahead = is_now ? rules::AirAhead(context.watch.Engine(), cave.id, now) : std::vector<rules::AirSpan>{};
  if (!ahead.empty()) object["ribbon"].as_object()["ahead"] = AheadJson(ahead, to);
  return object;
}

}  // namespace

void CaveJson(const ApiContext& context, const CaveRow& cave, Instant from, Instant to, JsonDone done) {
  TraceOf(context, cave, from, to, [context, id = cave.id, from, to, done = std::move(done)](const Trace& trace) {
    // The book may have changed while the store was asked.
    const CaveRow* row = context.book().Cave(id);
    done(row ? WithRibbon(context, *row, context.watch.View(id), trace, from, to) : json::object{});
  });
}

namespace {

bool IsAir(rules::ChannelKind kind) {
  return kind == rules::ChannelKind::kTemperature || kind == rules::ChannelKind::kHumidity;
}

json::object ProbeJson(const ApiContext& context, const ProbeRow& probe) {
  json::array channels;
  bool silent = false;
  const auto* out = context.book().OutOfService(probe);
  for (const ProbeChannel& channel : probe.channels) {
    json::object object{{"id", channel.id}, {"kind", sensors::NameOf(channel.kind)}};
    const auto said = rules::LastSaid(context.watch.Engine(), channel.id, context.now());
    if (said) {
      object["latest"] = said->value;
      object["latest_at"] = ToMillis(said->measured_at);
    }
    silent |= IsAir(channel.kind) && !out && !(said && said->speaks);
    channels.push_back(std::move(object));
  }
  json::object object{{"id", probe.id},
                      {"name", probe.name},
                      {"topic", probe.route.filter},
                      {"channels", std::move(channels)},
                      {"silent", silent}};
  if (out) {
    object["out_of_service"] = {{"since", ToMillis(out->from)}};
    if (!out->value.why.empty()) object["out_of_service"].as_object()["why"] = out->value.why;
  }
  std::int64_t invalid = 0;
  if (context.broker) {
    for (const auto& [topic, count] : context.broker->Invalid().Topics()) {
      if (!sensors::Matches(probe.route.filter, topic)) continue;
      invalid += count.count;
      object["invalid_last"] = {{"at", ToMillis(context.broker->InvalidAt(topic).value_or(context.now()))},
                                {"topic", topic},
                                {"first_bytes", count.first_bytes},
                                {"why", count.why}};
    }
  }
  object["invalid"] = invalid;
  return object;
}

}  // namespace

void DropFuture(json::object& state, Instant now) {
  for (const char* channel : {"temperature", "humidity"}) {
    json::object& told = state.at(channel).as_object();
    for (const char* at : {"silent_since", "latest_at"}) {
      const json::value* value = told.if_contains(at);
      if (value != nullptr && rules::FromMillis(value->to_number<std::int64_t>()) > now + kClockSlack) told.erase(at);
    }
  }
}

json::object CaveStateJson(const Watch& watch, const CaveRow& cave, const CaveView& view) {
  json::object object{{"id", cave.id},
                      {"kind", ToText(cave.kind)},
                      {"name", cave.name},
                      {"state", rules::ToText(view.state)},
                      {"temperature", ChannelJson(watch, cave, view.temperature)},
                      {"humidity", ChannelJson(watch, cave, view.humidity)}};
  if (cave.inside && watch.TheBook().Cave(*cave.inside)) object["inside"] = *cave.inside;
  return object;
}

namespace {

json::array SentencesJson(const ApiContext& context) {
  json::array array;
  const std::vector<Sentence> said = CavesSentences(context);
  for (const Sentence& sentence : said) {
    json::object one{{"text", sentence.text}};
    if (!sentence.alarm.empty()) one["alarm"] = sentence.alarm;
    array.push_back(std::move(one));
  }
  return array;
}

}  // namespace

void CavesJson(const ApiContext& context, JsonDone done) {
  struct All {
    std::vector<json::object> caves;
    std::size_t waiting = 0;
  };
  const auto caves = context.book().Caves();
  auto all = std::make_shared<All>();
  all->caves.resize(caves.size());
  all->waiting = caves.size() + 1;
  const auto arrived = [context, all, done = std::move(done)] {
    if (--all->waiting != 0) return;
    json::array array;
    for (json::object& cave : all->caves) {
      if (!cave.empty()) array.push_back(std::move(cave));
    }
    done({{"head", HeadJson(context)}, {"sentences", SentencesJson(context)}, {"caves", std::move(array)}});
  };
  const Instant now = context.now();
  for (std::size_t place = 0; place < caves.size(); ++place) {
    CaveJson(context, *caves[place], now - kRibbon, now, [all, arrived, place](json::object cave) {
      all->caves[place] = std::move(cave);
      arrived();
    });
  }
  arrived();
}

void CavePageJson(const ApiContext& context, const CaveRow& cave, JsonDone done) {
  const Instant now = context.now();
  CaveJson(context, cave, now - kRibbon, now, [context, id = cave.id, done = std::move(done)](json::object object) {
    const Book& book = context.book();
    json::array probes, journal;
    for (const ProbeRow* probe : book.Probes()) {
      if (book.HangsIn(*probe) == id) probes.push_back(ProbeJson(context, *probe));
    }
    for (const JournalLine& line : book.Newest()) {
      if (line.cave == id && !IsToCome(context, line)) journal.push_back(LineJson(context, line));
    }
    done({{"head", HeadJson(context)},
          {"cave", std::move(object)},
          {"probes", std::move(probes)},
          {"journal", std::move(journal)}});
  });
}

}  // namespace rindwatch
