#include <algorithm>
#include <functional>

#include "daemon/api/concerned.hpp"
#include "daemon/api/journal_kinds.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/leaps.hpp"
#include "daemon/api/limits_change.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/views.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::size_t kPage = 60;

json::object ObjectOf(const std::string& text) {
  if (text.empty()) return {};
  boost::system::error_code error;
  const json::value value = json::parse(text, error);
  return !error && value.is_object() ? value.as_object() : json::object{};
}

// Takes over what the page needs of a body, under the same names.
void Copy(json::object& into, const json::object& from, std::initializer_list<const char*> names) {
  for (const char* name : names) {
    if (const json::value* value = from.if_contains(name); value && !value->is_null()) into[name] = *value;
  }
}

// Where a wheel lay then, not where it lies now; empty: on no board with a name, in the cave of the line.
std::string PlaceThen(const Book& book, const JournalLine& line, const WheelRow& wheel) {
  const Place* then = AsOf(book, wheel.places, wheel.id, line.at);
  if (!then || (then->shelf.empty() && then->cave == line.cave)) return {};
  return PlaceName(book, *then);
}

void AddWheels(const Book& book, const JournalLine& line, json::object& into) {
  into["count"] = line.wheels.size();
  if (line.wheels.empty()) return;
  const WheelRow* first = book.Wheel(line.wheels.front());
  if (!first) return;
  into["lot"] = LotName(book, *first);
  if (const std::string family = book.FamilyOf(*first); !family.empty()) into["family"] = family;
  if (const std::string place = PlaceThen(book, line, *first); !place.empty()) into["place"] = place;
}

const JournalLine* Named(const Book& book, const std::string& id) {
  const auto& lines = book.Newest();
  const auto found = std::ranges::find(lines, id, &JournalLine::id);
  return found == lines.end() ? nullptr : &*found;
}

bool IsOwn(const JournalLine& line) {
  return line.kind == "alarm" || line.kind == "started" || line.kind == "stopped" || line.kind == "leapt";
}

// What keepers did while the clock was ahead of this start: it was kept before it, at a time that comes after it.
json::array MisdatedActs(const Book& book, const JournalLine& started) {
  json::array acts;
  for (const JournalLine& line : book.Newest()) {
    const bool own = IsOwn(line);
    const bool ahead = line.position < started.position && line.received_at > started.received_at;
    if (!ahead || own || line.kind == "undo" || book.IsUndone(line.id)) continue;
    json::object act{{"at", ToMillis(line.at)}};
    if (!line.keeper.empty()) act["keeper"] = line.keeper;
    acts.push_back(std::move(act));
  }
  return acts;
}

void AddUndone(const Book& book, const json::object& body, json::object& into) {
  const JournalLine* of = Named(book, fields::TextOr(body, "of", ""));
  if (!of) return;
  json::object undone{{"kind", of->kind}, {"at", ToMillis(of->at)}};
  Copy(undone, ObjectOf(of->body), {"done"});
  if (const WheelRow* first = of->wheels.empty() ? nullptr : book.Wheel(of->wheels.front())) {
    const CaveRow* cave = of->cave ? book.Cave(*of->cave) : nullptr;
    const std::string board = PlaceThen(book, *of, *first);
    if (!board.empty() || cave) undone["place"] = board.empty() ? cave->name : board;
  }
  into["of"] = std::move(undone);
}

void AddAlarm(const Book& book, const json::object& body, json::object& into) {
  json::object alarm{{"id", body.at("alarm")}};
  Copy(alarm, body,
       {"kind", "severity", "why", "since", "extreme", "dose", "value", "band", "found_later", "change", "over",
        "back_since", "before", "warmest", "unseen", "told_by"});
  if (alarm.at("change") == "over") alarm["ending"] = rules::ToText(EndingIn(body));
  if (alarm.at("change") == "raised severity") alarm["change"] = "severity";
  const json::value* probe = body.if_contains("probe");
  if (probe && probe->is_number()) {
    if (const ProbeRow* row = book.Probe(probe->to_number<std::int64_t>())) alarm["probe"] = row->name;
  }
  into["alarm"] = std::move(alarm);
}

// The alarm that a keeper took, set aside or called by its name.
void AddAlarmOf(const Book& book, const json::object& body, json::object& into) {
  const auto found = book.AlarmRecords().find(fields::TextOr(body, "alarm", ""));
  if (found == book.AlarmRecords().end()) return;
  AddAlarm(book, found->second, into);
  const CaveRow* cave = book.Cave(found->second.at("cave").to_number<std::int64_t>());
  if (cave && !into.contains("cave")) {
    into["cave"] = cave->id;
    into["cave_name"] = cave->name;
  }
}

// Dated as everywhere else, also where a line was written before that was known.
void AddToldSince(const ApiContext& context, json::object& into) {
  json::object* told = into.contains("alarm") ? into.at("alarm").if_object() : nullptr;
  const auto alarm = told ? FindAlarm(context, fields::TextOr(*told, "id", "")) : std::nullopt;
  if (!alarm) return;
  if (const auto dated = DatedOf(context.watch, *alarm); dated.begun) (*told)["told_since"] = ToMillis(dated.Since());
}

}  // namespace

bool IsToCome(const ApiContext& context, const JournalLine& line) {
  if (!IsOwn(line)) return false;
  // Once the clock is believed that hour comes, and what was written of it has not been.
  const auto was_ahead = [&](const JournalLine& later) {
    return later.kind == "started" && later.position > line.position && later.at < line.at &&
           later.body.find("ahead_until") != std::string::npos;
  };
  return HasNotCome(context, line.at) || std::ranges::any_of(context.book().Newest(), was_ahead);
}

json::object LineJson(const ApiContext& context, const JournalLine& line) {
  const Book& book = context.book();
  const json::object body = ObjectOf(line.body);
  json::object object{{"position", line.position},
                      {"id", line.id},
                      {"at", ToMillis(line.at)},
                      {"received_at", ToMillis(line.received_at)},
                      {"kind", line.kind},
                      {"late_entry", line.late_entry},
                      {"undone", book.IsUndone(line.id)}};
  if (!line.keeper.empty()) object["keeper"] = line.keeper;
  if (const CaveRow* cave = line.cave ? book.Cave(*line.cave) : nullptr) {
    object["cave"] = cave->id;
    object["cave_name"] = cave->name;
  }
  AddWheels(book, line, object);
  AddKind(book, line, body, ObjectOf(line.given), object);
  AddLimitsChange(book, line, object);
  if (line.kind == "undo") AddUndone(book, body, object);
  if (line.kind == "answer") {
    Copy(object, body, {"start", "option"});
    Copy(object, ObjectOf(line.given), {"day"});
  }
  if (line.kind == "alarm") {
    AddAlarm(book, body, object);
    // Told as the alarm tells it, however many it had touched when the line was written.
    if (const auto alarm = FindAlarm(context, fields::TextOr(body, "alarm", "")))
      object["count"] = WheelsConcerned(context, *alarm);
    AddToldSince(context, object);
  }
  if (line.kind == "take" || line.kind == "called" || line.kind == "aside") {
    AddAlarmOf(book, body, object);
    AddToldSince(context, object);
    Copy(object, body, {"what", "until"});
    if (body.contains("after")) object["goes_on"] = true;
    if (const std::string remark = fields::TextOr(body, "remark", ""); !remark.empty()) object["text"] = remark;
  }
  if (line.kind == "note") Copy(object, body, {"text"});
  if (line.kind == "probe") {
    Copy(object, body, {"topic"});
    object["text"] = fields::TextOr(body, "name", "");
  }
  if (line.kind == "unhang" || line.kind == "service") {
    const ProbeRow* probe = book.Probe(fields::Whole(body, "probe"));
    if (probe) object["topic"] = probe->route.filter;
    if (probe) object["text"] = probe->name;
  }
  if (line.kind == "service") {
    object["what"] = fields::TruthOr(body, "out", false) ? "out" : "back";
    if (const std::string why = fields::TextOr(body, "why", ""); !why.empty()) object["reason"] = why;
  }
  if (line.kind == "cave") object["text"] = fields::TextOr(body, "name", "");
  if (const auto leap = LeapOf(line))
    object["unwatched"] = {{"from", ToMillis(leap->from)}, {"to", ToMillis(leap->to)}};
  if (line.kind == "started") {
    if (const auto until = fields::MaybeAt(body, "watched_until")) {
      object["unwatched"] = {{"from", ToMillis(*until)}, {"to", ToMillis(line.at)}};
    }
    if (const auto ahead = fields::MaybeAt(body, "ahead_until")) {
      object["ahead_until"] = ToMillis(*ahead);
      if (json::array acts = MisdatedActs(book, line); !acts.empty()) object["misdated"] = std::move(acts);
    }
  }
  return object;
}

namespace {

// Older pages are asked for until a line is found that is shown: a page of which nothing is must not end the journal.
void ShownBefore(const ApiContext& context, std::int64_t before, const std::function<void(json::array, bool)>& done) {
  context.store.JournalPage(before, kPage + 1, [context, done](std::vector<JournalLine> lines) {
    const bool older = lines.size() > kPage;
    if (older) lines.pop_back();
    std::ranges::reverse(lines);
    json::array array;
    for (const JournalLine& line : lines) {
      if (!IsToCome(context, line)) array.push_back(LineJson(context, line));
    }
    if (array.empty() && older) return ShownBefore(context, lines.front().position, done);
    done(std::move(array), older);
  });
}

}  // namespace

void JournalJson(const ApiContext& context, std::int64_t before, JsonDone done) {
  ShownBefore(context, before, [context, done = std::move(done)](json::array lines, bool older) {
    done({{"head", HeadJson(context)}, {"lines", std::move(lines)}, {"older", older}});
  });
}

}  // namespace rindwatch
