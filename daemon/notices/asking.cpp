// Which alarms ask, as the rules of notices want to know it.
#include <algorithm>
#include <boost/json.hpp>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/concerned.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/notices/notices.hpp"
#include "daemon/notices/rows.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/channels.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::minutes;

namespace {

// That nobody watched is told with what the air did meanwhile, if that is heard so soon after the start.
constexpr rules::Millis kLeastAwaited = minutes{5}, kMostAwaited = minutes{10};
constexpr rules::Millis kGrace = minutes{2};

rules::Millis AwaitedFor(const rules::EngineState& engine, rules::CaveId cave) {
  const auto usual = rules::AirAwaitedFor(engine, cave);
  return usual ? std::clamp(*usual + kGrace, kLeastAwaited, kMostAwaited) : kMostAwaited;
}

// Of a time that nobody watched one letter tells the end too: when somebody sees it, or long after, nothing is left to
// tell.
bool IsTold(const rules::Alarm& alarm, Instant now) {
  if (alarm.kind != rules::AlarmKind::kUnwatched || !alarm.over) return false;
  return now - *alarm.over >= kEndedFor || (alarm.taken && *alarm.taken >= *alarm.over);
}

// The probe says so, though the mean that is judged holds what was. Humidity saws with each cycle: of it one reading
// says nothing.
bool IsBackThisMinute(const rules::CaveView& view, const rules::Alarm& alarm) {
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm;
  const std::optional<double> now = view.temperature.latest;
  if (!now || !alarm.band || alarm.why != rules::Why::kBand) return false;
  if (!warm && alarm.kind != rules::AlarmKind::kTooCold) return false;
  return warm ? *now <= alarm.band->high : *now >= alarm.band->low;
}

// By the line that says so; empty: it cannot be read.
std::string AlarmSetAside(const JournalLine& line) {
  boost::system::error_code error;
  const boost::json::value body = boost::json::parse(line.body, error);
  return !error && body.is_object() ? fields::TextOr(body.as_object(), "alarm", "") : std::string{};
}

// None: nobody did, or longer ago than anything rings.
std::optional<Instant> LastSetAside(const Book& book, const std::string& alarm) {
  std::optional<Instant> last;
  for (const JournalLine& line : book.Newest()) {
    if (line.kind != "aside" || AlarmSetAside(line) != alarm) continue;
    last = std::max(last, std::optional(line.received_at));
  }
  return last;
}

bool IsGraver(const rules::Alarm& alarm, const boost::json::object& record) {
  const auto written = rules::SeverityFrom(fields::TextOr(record, "severity", ""));
  return written && *written < alarm.severity;
}

}  // namespace

std::vector<rules::Asking> Notices::Asking() {
  const Book& book = context_.book();
  const Instant now = context_.now();
  standing_.clear();
  for (rules::Alarm& alarm : context_.watch.Engine().Alarms()) standing_.emplace(alarm.id, std::move(alarm));
  std::erase_if(worse_, [&](const auto& entry) { return !standing_.contains(entry.first); });
  std::erase_if(leaving_, [&](const auto& entry) { return !standing_.contains(entry.first); });
  std::erase_if(ended_, [&](const auto& entry) {
    return !standing_.contains(entry.first) && entry.second.over && *entry.second.over < now - kEndedFor;
  });
  std::vector<rules::Asking> asking;
  const auto add = [&](const rules::Alarm& alarm) {
    const auto record = book.AlarmRecords().find(alarm.id);
    const bool written = record != book.AlarmRecords().end();
    const bool graver = written && !alarm.over && IsGraver(alarm, record->second);
    const auto worse = worse_.find(alarm.id);
    // What the watch has just come to asks once its line is on disk or was refused: until then it would ask since long
    // ago.
    if (graver && (worse == worse_.end() || worse->second.alarm.severity < alarm.severity)) return;
    if (IsTold(alarm, now)) return;
    rules::Asking one;
    one.alarm = alarm.id;
    one.severity = alarm.severity;
    one.asked = alarm.raised;
    if (graver)
      one.asked = worse->second.at;
    else if (written && record->second.contains("asked"))
      one.asked = rules::FromMillis(record->second.at("asked").to_number<std::int64_t>());
    one.rings = alarm.Rings();
    if (one.rings) {
      // What is back and waits for the boxes in it calls nobody, through a defrost too; of what was back when its air
      // became unknown it is told by itself that nobody knows it.
      const bool by_band = alarm.why != rules::Why::kBelowNormal;
      one.inside = by_band && (IsBackInBand(context_, alarm) || alarm.inside_since.has_value());
      one.eases = alarm.severity < rules::Severity::kAct ? IsBackThisMinute(context_.watch.View(alarm.cave), alarm)
                                                         : CourseNow(context_, alarm) == rules::Knowing::kTurning;
      if (alarm.severity == rules::Severity::kAct) one.leaves = FirstLeaves(alarm);
    }
    one.of_people = rules::IsGas(alarm.kind);
    // But gas that nobody measures any more is a matter of people.
    one.keeps = alarm.kind == rules::AlarmKind::kPowerGone && !DarkensGas(book, alarm);
    if (one.of_people && one.rings) {
      const auto now_is = GasNow(context_, alarm);
      // What would call nobody by itself calls nobody once more.
      one.inside = now_is && *now_is < rules::Severity::kAct;
      one.eases = now_is && *now_is < alarm.severity;
    }
    one.may_grow = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooCold;
    one.news = alarm.kind == rules::AlarmKind::kUnwatched && !alarm.taken;
    if (one.news && !alarm.over) one.awaited = AwaitedFor(context_.watch.Engine(), alarm.cave);
    if (const auto morning = rules::WaitsForMorningUntil(context_.watch.Engine(), alarm, now))
      one.awaited = *morning + kGrace - one.asked;  // by then it is an act, and asks as that
    one.taken = alarm.taken;
    one.over = alarm.over;
    one.told_by = alarm.told_by;
    if (const Book::Taking* taking = book.TakenBy(alarm.id)) {
      one.taken_by = taking->keeper;
      one.quieted = taking->received_at;
    }
    if (one.rings && alarm.severity == rules::Severity::kUrgent)
      one.quieted = std::max(one.quieted, LastSetAside(book, alarm.id));
    asking.push_back(std::move(one));
  };
  for (const auto& [id, alarm] : standing_) add(alarm);
  for (const auto& [id, alarm] : ended_) {
    if (!standing_.contains(id)) add(alarm);
  }
  // In the order in which they rang.
  std::ranges::stable_sort(asking, {}, &rules::Asking::asked);
  return asking;
}

// When the first wheel has left its band by it, or will have for certain, as far as that is foreseen; none: nothing is.
// One that had when it was first looked at was told with it; after a start, what nobody was told of is news.
std::optional<Instant> Notices::FirstLeaves(const rules::Alarm& alarm) {
  std::optional<rules::Millis> surely;
  for (const Concern& wheels : Concerns(context_, AsForeseen(context_, alarm))) {
    if (wheels.soonest && wheels.latest) surely = std::min(surely.value_or(*wheels.latest), *wheels.latest);
  }
  const bool out = surely && *surely <= rules::Millis{0};
  const Instant now = context_.now();
  const auto [known, first] = leaving_.try_emplace(
      alarm.id, out ? std::optional(said_.Of(alarm.id).empty() ? alarm.raised : now) : std::nullopt);
  if (out && !known->second) known->second = now;
  if (known->second) return known->second;
  return surely ? std::optional(now + *surely) : std::nullopt;
}

// What goes on under another name, as after an update of the rules, was told under the one before: nobody is called
// anew for it, and its end is told to whoever heard of it. Not of what is graver now.
void Notices::SayUnderItsName(const std::vector<rules::Asking>& asking) {
  for (const auto& [id, alarm] : ended_) {
    const auto goes_on = std::ranges::find(asking, alarm.told_by, &rules::Asking::alarm);
    if (goes_on == asking.end() || goes_on->severity > alarm.severity || !EndedUnseen(context_.book(), id)) continue;
    for (rules::Said::Entry entry : std::vector(said_.Of(id))) {
      if (entry.notice.kind == rules::NoticeKind::kOver) continue;
      entry.notice.alarm = goes_on->alarm;
      entry.notice.asked = goes_on->asked;
      const auto& known = said_.Of(goes_on->alarm);
      const auto is_it = [&](const rules::Said::Entry& one) { return one.notice == entry.notice; };
      if (std::ranges::none_of(known, is_it)) said_.Add(std::move(entry));
    }
  }
}

const rules::Alarm* Notices::AlarmOf(const std::string& id) {
  if (const auto found = standing_.find(id); found != standing_.end()) return &found->second;
  if (const auto found = ended_.find(id); found != ended_.end()) return &found->second;
  const auto record = context_.book().AlarmRecords().find(id);
  if (record == context_.book().AlarmRecords().end()) return nullptr;
  auto alarm = MaybeAlarmFrom(record->second);
  return alarm ? &ended_.insert_or_assign(id, std::move(*alarm)).first->second : nullptr;
}

}  // namespace rindwatch
