#include "daemon/notices/notices.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <boost/json.hpp>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/notices/parcels.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/channels.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

// As long as what is over is told to whoever heard of it.
constexpr rules::Millis kEndedFor = days{2};
// What was said longer ago belongs to alarms that nobody asks about.
constexpr rules::Millis kRememberFor = days{40};
constexpr rules::Millis kSetBackBy = minutes{1};
// Who hears so soon after another one hears beside them, not in their place.
constexpr rules::Millis kTogether = minutes{1};
// That nobody watched is told with what the air did meanwhile, if that is heard so soon after the start.
constexpr rules::Millis kLeastAwaited = minutes{5}, kMostAwaited = minutes{10};
constexpr rules::Millis kGrace = minutes{2};

std::string KeyOf(const rules::Notice& notice) {
  return fmt::format("{} | {} | {} | {} | {}", notice.alarm, rules::ToText(notice.kind), ToMillis(notice.asked),
                     notice.nth, notice.hearer);
}

rules::Notice NoticeOf(const NoticeRow& row, rules::NoticeKind kind) {
  return {row.hearer, row.alarm, kind, row.asked, row.nth};
}

// Whether somebody read it, or may have. What was overtaken by a newer list did not: that one stands for itself.
bool Reached(const NoticeRow& row) { return row.state == "sent" || row.state == "shown" || row.state == "doubtful"; }

std::optional<rules::ListSent> ListOf(const NoticeRow& row, const rules::DayTurn& home) {
  if (row.kind != "morning" && row.kind != "evening") return std::nullopt;
  return rules::ListSent{row.hearer, home.DayOf(row.asked), row.kind == "evening"};
}

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

// Whether it rang of what was at act or above.
bool WasLoud(const NoticeRow& row) {
  const auto severity = row.kind == rules::ToText(rules::NoticeKind::kRings) && !row.letter.empty()
                            ? rules::SeverityFrom(LetterFrom(row.letter).severity)
                            : std::nullopt;
  return severity && *severity >= rules::Severity::kAct;
}

}  // namespace

Notices::Notices(const ApiContext& context, Scheduler& scheduler, Ways ways)
    : context_(context),
      scheduler_(scheduler),
      ways_(std::move(ways)),
      letters_(context, ways_.page),
      queue_(
          context.store, scheduler, context.watch.TheClock(), ways_.carrier,
          {[this](const auto& rows) { return LetterOf(rows); },
           [this](const NoticeRow& row, const Letter& letter, std::string& why) { return ParcelOf(row, letter, why); },
           [this](const NoticeRow& row) { OnChange(row); },
           [this](const std::vector<const NoticeRow*>& rows) { return RestsUntil(rows); },
           context.words.Say("outcome.day over")}) {}

void Notices::Begin() {
  RememberOver();
  context_.store.NoticesSince(context_.now() - kRememberFor, [this](std::vector<NoticeRow> rows) {
    if (stopped_) return;
    for (const NoticeRow& row : rows) Remember(row);
    std::erase_if(rows, [](const NoticeRow& row) {
      return row.state != "waiting" && row.state != "refused" && row.state != "handing";
    });
    queue_.Load(std::move(rows));
    begun_ = true;
    Review();
  });
}

void Notices::SetPage(std::string address) {
  while (address.ends_with('/')) address.pop_back();
  ways_.page = std::move(address);
}

void Notices::Stop() {
  stopped_ = true;
  if (ways_.carrier) ways_.carrier->Stop();
  for (const char* name : {"notices", "notices that wait", "unkept notices", "notices to another address"})
    scheduler_.Forget(name);
}

// What a letter told as over, though it was to tell that it rings, has been told.
void Notices::NoteEnded(const NoticeRow& row) {
  if (row.alarm.empty() || !Reached(row) || row.letter.empty()) return;
  // Of several addresses another one may have heard that it rings.
  const std::vector<Hearing> hearings = context_.book().Hearings();
  const auto hearing = std::ranges::find(hearings, row.hearer, &Hearing::Name);
  if (hearing == hearings.end() || hearing->mail.size() + hearing->webhooks.size() != 1) return;
  for (const std::string& alarm : LetterFrom(row.letter).ended)
    said_.Add({{row.hearer, alarm, rules::NoticeKind::kOver, row.asked, 0}, row.made_at});
}

void Notices::Remember(const NoticeRow& row) {
  NoteOutcome(row);
  NoteEnded(row);
  if (const auto kind = rules::NoticeKindFrom(row.kind))
    said_.Add({NoticeOf(row, *kind), row.made_at, row.state == "doubtful", WasLoud(row)});
  if (const auto list = ListOf(row, context_.book().Home()); list && !row.key.ends_with("ahead")) {
    lists_.insert(*list);
    list_rows_[*list].push_back(row);
  }
}

void Notices::RememberOver() {
  for (const auto& [id, record] : context_.book().AlarmRecords()) {
    const boost::json::value* over = record.if_contains("over");
    if (!over || over->is_null()) continue;
    if (rules::FromMillis(over->to_number<std::int64_t>()) < context_.now() - kEndedFor) continue;
    if (auto alarm = MaybeAlarmFrom(record)) ended_.insert_or_assign(id, std::move(*alarm));
  }
}

void Notices::OnLine(const JournalLine& line, const std::vector<Fact>&) {
  static const std::set<std::string> matters{"hearing", "take", "aside", "undo", "here", "out", "alarm"};
  if (matters.contains(line.kind)) ReviewSoon();
}

void Notices::OnDecisions(const std::vector<rules::Decision>& decisions) {
  for (const rules::Decision& decision : decisions) {
    if (decision.change == rules::Decision::Change::kOver) ended_.insert_or_assign(decision.alarm.id, decision.alarm);
    if (decision.change == rules::Decision::Change::kRaisedSeverity)
      worse_.insert_or_assign(decision.alarm.id, decision);
  }
  ReviewSoon();
}

void Notices::ShowClock(Instant wall, rules::Millis monotonic) {
  // One that was wrong is only put right.
  leaps_.Look(wall, monotonic, !context_.broker || context_.broker->IsClockKnown());
}

void Notices::LookAtClock() {
  ShowClock(context_.now(), context_.watch.TheClock().Monotonic());
  // At once: a clock that is set back and on again within a moment was set back all the same.
  if (begun_ && reviewed_ && context_.now() + kSetBackBy < *reviewed_) Review();
}

// Many changes, one look.
void Notices::ReviewSoon() {
  if (begun_ && !stopped_) scheduler_.WakeAt("notices", context_.now(), [this] { Review(); });
}

void Notices::Review() {
  if (stopped_) return;
  const Instant now = context_.now();
  if (reviewed_ && now + kSetBackBy < *reviewed_) {
    // What the clock showed was never so: lists of days to come were sent too early.
    set_back_ = true;
    ForgetListsOf(context_.book().Home().DayOf(now));
    queue_.Work();
  }
  reviewed_ = now;
  std::vector<Hearing> hearings = context_.book().Hearings();
  Readdress(hearings);
  std::erase_if(hearings, [](const Hearing& hearing) { return !hearing.Hears(); });
  const auto alarms = ReviewAlarms(hearings), lists = ReviewLists(hearings);
  const Instant next = std::min(alarms.value_or(Instant::max()), lists.value_or(Instant::max()));
  if (next != Instant::max()) scheduler_.WakeAt("notices", next, [this] { Review(); });
}

namespace {

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
    if (one.rings && alarm.severity == rules::Severity::kUrgent) {
      const auto course = CourseNow(context_, alarm);
      // What was back inside when its air became unknown calls nobody: that nobody knows it is told by itself.
      one.inside = course == rules::Knowing::kBack || (IsAirUnknown(context_, alarm) && alarm.inside_since.has_value());
      one.eases = course == rules::Knowing::kTurning;
    } else if (one.rings && alarm.severity < rules::Severity::kAct) {
      one.eases = IsBackThisMinute(context_.watch.View(alarm.cave), alarm);
    }
    one.of_people = rules::IsGas(alarm.kind);
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
    if (const Book::Taking* taking = book.TakenBy(alarm.id)) one.taken_by = taking->keeper;
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

std::optional<Instant> Notices::ReviewAlarms(const std::vector<Hearing>& hearings) {
  std::vector<rules::Hearer> hearers;
  for (const Hearing& hearing : hearings) hearers.push_back(hearing.reader.hearer);
  const Instant now = context_.now();
  const auto asking = Asking();
  SayUnderItsName(asking);
  const rules::DueNotices due = NoticesDue(hearers, asking, said_, context_.book().Home(), now);
  for (const rules::Notice& notice : due.now) {
    const auto hearing = std::ranges::find(hearings, notice.hearer, &Hearing::Name);
    const rules::Alarm* alarm = AlarmOf(notice.alarm);
    if (hearing == hearings.end() || !alarm) continue;
    const Letters::Before before = BeforeOf(notice);
    said_.Add({notice, now, false, alarm->severity >= rules::Severity::kAct});
    NoticeRow row;
    row.key = KeyOf(notice);
    row.kind = rules::ToText(notice.kind);
    row.alarm = notice.alarm;
    row.asked = notice.asked;
    row.nth = notice.nth;
    Say(*hearing, std::move(row), letters_.OfAlarm(notice, *alarm, before));
  }
  // Saying it once more may make another one due.
  if (due.now.empty()) return due.next;
  const auto after = NoticesDue(hearers, asking, said_, context_.book().Home(), now);
  return after.now.empty() ? after.next : std::optional(now);
}

Letters::Before Notices::BeforeOf(const rules::Notice& notice) const {
  const bool others = std::ranges::any_of(said_.Of(notice.alarm), [&](const rules::Said::Entry& entry) {
    return entry.notice.kind == rules::NoticeKind::kRings && entry.notice.hearer != notice.hearer &&
           entry.notice.asked == notice.asked && entry.at < context_.now() - kTogether;
  });
  const bool waited = context_.now() - notice.asked >= rules::kNextKeeperAfter;
  return others && waited ? Letters::Before::kOthersToo : Letters::Before::kNothing;
}

std::optional<Instant> Notices::ReviewLists(const std::vector<Hearing>& hearings) {
  // A clock that shows less than what was kept may be any time of any day.
  if (context_.broker && !context_.broker->IsClockKnown() && !set_back_) return context_.now() + minutes{1};
  std::vector<rules::ListReader> readers;
  for (const Hearing& hearing : hearings) readers.push_back(hearing.reader);
  const rules::DayTurn& home = context_.book().Home();
  rules::DayOfWork work{home.DayOf(context_.now()), true, true};
  auto due = ListsDue(readers, work, lists_, home, context_.now());
  if (due.now.empty()) {
    lists_.insert(due.passed.begin(), due.passed.end());
    return due.next;
  }
  const DayRound& round = context_.watch.TodaysRound();
  work.work = round.Left() > 0 || !round.work.questions.empty();
  work.evening = std::ranges::any_of(round.work.lines, [](const rules::Round::Line& line) {
    return line.line->care->evening && line.line->care->OnRound();
  });
  due = ListsDue(readers, work, lists_, home, context_.now());
  for (const rules::ListSent& list : due.now) {
    const auto hearing = std::ranges::find(hearings, list.reader, &Hearing::Name);
    lists_.insert(list);
    NoticeRow row;
    row.kind = list.evening ? "evening" : "morning";
    row.key = fmt::format("{} {} | {}", row.kind, ToText(list.day), list.reader);
    // Its day is over a day later; the one on which clocks go back is longer than that.
    row.asked = home.EndOf(list.day) - std::chrono::hours{24};
    Say(*hearing, std::move(row), letters_.OfRound(list.evening, ToldUntil(hearing->reader, list.evening)));
  }
  lists_.insert(due.passed.begin(), due.passed.end());
  return due.next;
}

// By the lists before. One that reached nobody told nothing, be it given up, overtaken by a newer one or still waiting.
Instant Notices::ToldUntil(const rules::ListReader& reader, bool evening) const {
  const rules::DayTurn& home = context_.book().Home();
  const rules::Date today = home.DayOf(context_.now());
  std::optional<Instant> told;
  for (const auto& [list, rows] : list_rows_) {
    const bool before = list.day < today || (list.day == today && evening && !list.evening);
    if (list.reader != reader.hearer.name || !before) continue;
    for (const NoticeRow& row : rows) {
      if (Reached(row) && (!told || row.made_at > *told)) told = row.made_at;
    }
  }
  if (told) return *told;
  // Who has had none yet was told nothing since that was asked for.
  const Instant yesterday = home.zone.FirstInstantAtOrAfter(rules::LocalTime{today - days{1}} + reader.morning);
  return std::min(yesterday, std::max(reader.since, context_.now() - kRememberFor));
}

std::optional<Instant> Notices::ToldUntil() const {
  std::optional<Instant> earliest;
  for (const Hearing& hearing : context_.book().Hearings()) {
    if (!hearing.Hears() || hearing.reader.habit == rules::ListHabit::kNever) continue;
    const Instant told = ToldUntil(hearing.reader, false);
    if (!earliest || told < *earliest) earliest = told;
  }
  return earliest;
}

void Notices::ForgetListsOf(rules::Date after) {
  std::erase_if(lists_, [&](const rules::ListSent& list) { return list.day > after; });
  for (auto& [list, rows] : list_rows_) {
    if (list.day <= after) continue;
    for (NoticeRow& row : rows) {
      if (row.number == 0) continue;
      row.key += fmt::format(" | {} ahead", row.number);
      queue_.Rename(row);
    }
    rows.clear();
  }
}

void Notices::NoteOutcome(const NoticeRow& row) {
  const std::pair address{row.way, row.address};
  if (row.state == "sent") unreached_.erase(address);
  // That a list's day is over, or nobody hears there any more, says nothing of the address.
  const bool closed =
      row.why == context_.words.Say("outcome.day over") || row.why == context_.words.Say("outcome.left");
  if (row.state == "refused" || (row.state == "given up" && !closed))
    unreached_.try_emplace(address, row.done_at.value_or(row.made_at));
}

void Notices::Readdress(const std::vector<Hearing>& hearings) {
  std::map<std::string, std::set<Address>> now;
  for (const Hearing& hearing : hearings) {
    std::set<Address>& addresses = now[hearing.Name()];
    if (!hearing.Hears()) continue;
    for (const std::string& address : hearing.mail) addresses.insert({"mail", address});
    for (const std::string& address : hearing.webhooks) addresses.insert({"webhook", address});
  }
  for (const auto& [name, before] : addresses_) {
    const std::set<Address> to = now[name];
    if (to == before) continue;
    std::vector<Address> added;
    std::ranges::set_difference(to, before, std::back_inserter(added));
    std::set<std::string> all;
    for (const auto& [way, address] : to) all.insert(way + " " + address);
    if (queue_.Readdress(name, all, added, context_.words.Say("outcome.left"))) continue;
    now[name] = before;
    scheduler_.WakeAt("notices to another address", context_.now() + kTogether, [this] { ReviewSoon(); });
  }
  addresses_ = std::move(now);
}

std::map<std::string, Instant> Notices::Unreached() const {
  std::map<std::string, Instant> addresses;
  const auto add = [&](const char* way, const std::vector<std::string>& those) {
    for (const std::string& address : those) {
      const auto found = unreached_.find({way, address});
      if (found != unreached_.end()) addresses.insert({address, found->second});
    }
  };
  for (const Hearing& hearing : context_.book().Hearings()) {
    if (!hearing.Hears()) continue;
    add("mail", hearing.mail);
    add("webhook", hearing.webhooks);
  }
  return addresses;
}

void Notices::Say(const Hearing& hearing, NoticeRow row, const Letter& letter) {
  row.made_at = context_.now();
  row.hearer = hearing.Name();
  row.letter = boost::json::serialize(ToJson(letter));
  std::vector<NoticeRow> rows;
  const auto add = [&](const char* way, const std::vector<std::string>& addresses) {
    for (const std::string& address : addresses) {
      NoticeRow& one = rows.emplace_back(row);
      one.way = way;
      one.address = address;
      one.key += fmt::format(" | {} {}", way, address);
    }
  };
  add("mail", hearing.mail);
  add("webhook", hearing.webhooks);
  queue_.Put(std::move(rows));
}

Letter Notices::LetterOf(const std::vector<const NoticeRow*>& rows) {
  const bool late = context_.now() - rows.front()->made_at > NoticeQueue::kFresh;
  const bool of_alarm = !rows.front()->alarm.empty();
  if (!of_alarm || (rows.size() == 1 && !late)) return LetterFrom(rows.front()->letter);
  Asking();  // how they stand now
  std::vector<Letters::Told> told;
  for (const NoticeRow* row : rows) {
    const bool waited = context_.now() - row->asked >= rules::kNextKeeperAfter;
    told.push_back({row->kind, LetterFrom(row->letter).subject, AlarmOf(row->alarm), waited});
  }
  return letters_.OfSeveral(told, late);
}

std::optional<Instant> Notices::RestsUntil(const std::vector<const NoticeRow*>& rows) {
  const std::vector<Hearing> hearings = context_.book().Hearings();
  const auto hearing = std::ranges::find(hearings, rows.front()->hearer, &Hearing::Name);
  if (hearing == hearings.end()) return std::nullopt;
  const auto quiet_at = [&](Instant at) {
    return rules::QuietUntil(hearing->reader.hearer, context_.book().Home().zone, at);
  };
  const auto until = quiet_at(context_.now());
  const bool rest = std::ranges::all_of(rows, [&](const NoticeRow* row) {
    const rules::Alarm* alarm = AlarmOf(row->alarm);
    // Who was called in these hours waits for the end of it.
    const bool called = std::ranges::none_of(rows, [row](const NoticeRow* other) {
      return other->alarm == row->alarm && other->kind == rules::ToText(rules::NoticeKind::kRings);
    });
    const bool awaited =
        called && row->kind == rules::ToText(rules::NoticeKind::kOver) && quiet_at(row->made_at) == until;
    // What nobody judges any more may be as it was.
    const bool ended = alarm && alarm->over && !alarm->Unjudged() && !EndedUnseen(context_.book(), alarm->id);
    return ended && alarm->severity != rules::Severity::kUrgent && !awaited;
  });
  // By then it is told that it is over, and both go as one.
  return until && rest ? std::optional(*until + kTogether) : std::nullopt;
}

std::optional<Parcel> Notices::ParcelOf(const NoticeRow& row, const Letter& letter, std::string& why) {
  return rindwatch::ParcelOf(context_, row, letter,
                             letter.cave ? letters_.PageOf(rindwatch::AlarmOf(row, letter)) : ways_.page + "/round",
                             why);
}

void Notices::OnChange(const NoticeRow& row) {
  if (row.state == "doubtful") {
    if (const auto kind = rules::NoticeKindFrom(row.kind)) {
      said_.Doubt(NoticeOf(row, *kind));
      ReviewSoon();
    }
  }
  if (const auto list = ListOf(row, context_.book().Home()); list && row.number > 0) {
    auto& rows = list_rows_[*list];
    std::erase_if(rows, [&](const NoticeRow& one) { return one.number == row.number; });
    rows.push_back(row);
  }
  ways_.changed();
  NoteOutcome(row);
  NoteEnded(row);
  if (row.state == "given up")
    spdlog::warn("A notice to {} was given up: {}", row.address, row.why);
  else if (row.state != "handing" && row.tries == 1 && !row.done_at)
    spdlog::warn("A notice to {} waits: {}", row.address, row.why);
}

void Notices::Test(const std::string& way, const std::string& address, std::function<void(Outcome)> done) {
  const Words& words = context_.words;
  if (!Sends()) return done({Outcome::Kind::kNever, words.Say("outcome.trial")});
  NoticeRow row;
  row.way = way;
  row.address = address;
  row.kind = "test";
  row.made_at = row.asked = context_.now();
  row.key = fmt::format("test {} | {} {}", ToMillis(row.made_at), way, address);
  const Letter letter = letters_.OfTest();
  row.letter = boost::json::serialize(ToJson(letter));
  std::string why;
  auto parcel = ParcelOf(row, letter, why);
  if (!parcel) return done({Outcome::Kind::kNotNow, why});
  // It waits for nobody: the keeper stands there with the phone.
  parcel->lane = "test";
  parcel->patience = std::chrono::seconds{20};
  ways_.carrier->Send(
      std::move(*parcel), [](const Carrier::Go& go) { go(); },
      [this, row, done = std::move(done)](const Outcome& outcome) mutable {
        using enum Outcome::Kind;
        row.state = outcome.kind == kSent ? "sent" : outcome.kind == kDoubtful ? "doubtful" : "given up";
        row.tries = 1;
        row.done_at = context_.now();
        row.why = outcome.what;
        NoteOutcome(row);
        if (outcome.kind == kSent) queue_.GoesThrough(row.way, row.address);
        context_.store.WriteNotices({row}, [this, done, outcome](const auto&) {
          ways_.changed();
          done(outcome);
        });
      });
}

}  // namespace rindwatch
