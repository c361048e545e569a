#include "daemon/notices/notices.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <boost/json.hpp>

#include "daemon/notices/parcels.hpp"
#include "daemon/notices/rows.hpp"
#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

using rules::Instant;
using std::chrono::minutes;

namespace {

constexpr rules::Millis kSetBackBy = minutes{1};

std::string KeyOf(const rules::Notice& notice) {
  return fmt::format("{} | {} | {} | {} | {}", notice.alarm, rules::ToText(notice.kind), ToMillis(notice.asked),
                     notice.nth, notice.hearer);
}

rules::Notice NoticeOf(const NoticeRow& row, rules::NoticeKind kind) {
  return {row.hearer, row.alarm, kind, row.asked, row.nth};
}

std::optional<rules::ListSent> ListOf(const NoticeRow& row, const rules::DayTurn& home) {
  if (row.kind != "morning" && row.kind != "evening") return std::nullopt;
  return rules::ListSent{row.hearer, home.DayOf(row.asked), row.kind == "evening"};
}

bool IsEnd(const NoticeRow& row) { return row.kind == rules::ToText(rules::NoticeKind::kOver); }

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
           context.words.Say("outcome.day over"), context.words.Say("outcome.left"),
           [this](const NoticeRow& row) {
             return IsEnd(row) ? ToldEndBy(row.alarm, {row.way, row.address}) : std::nullopt;
           },
           [this](const NoticeRow& row) { return ListTells(row); }}) {}

void Notices::Begin() {
  RememberOver();
  RecallLeaps();
  context_.store.NoticesSince(context_.now() - kRememberFor, [this](std::vector<NoticeRow> rows) {
    if (stopped_) return;
    for (const NoticeRow& row : rows) Remember(row);
    queue_.Hears(AddressesNow());
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
  for (const char* name : {"notices", "notices that wait", "unkept notices"}) scheduler_.Forget(name);
  ForgetLeaps();
}

void Notices::Remember(const NoticeRow& row) {
  NoteOutcome(row);
  NoteEnded(row);
  if (const auto kind = rules::NoticeKindFrom(row.kind))
    said_.Add({NoticeOf(row, *kind), row.made_at, row.state == "doubtful", WasLoud(row)});
  if (row.kind == "leapt") told_leaps_.insert({row.hearer, row.asked});
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
  // What falls due because the clock went on tells that it did.
  ShowClock(now, context_.watch.TheClock().Monotonic());
  if (reviewed_ && now + kSetBackBy < *reviewed_) {
    // What the clock showed was never so: lists of days to come were sent too early.
    set_back_ = true;
    ForgetListsOf(context_.book().Home().DayOf(now));
    queue_.Work();
  }
  reviewed_ = now;
  queue_.Hears(AddressesNow());
  std::vector<Hearing> hearings = context_.book().Hearings();
  std::erase_if(hearings, [](const Hearing& hearing) { return !hearing.Hears(); });
  const auto alarms = ReviewAlarms(hearings), lists = ReviewLists(hearings), leap = ReviewLeaps(hearings);
  const auto at = [](const std::optional<Instant>& due) { return due.value_or(Instant::max()); };
  const Instant next = std::min({at(alarms), at(lists), at(leap)});
  if (next != Instant::max()) scheduler_.WakeAt("notices", next, [this] { Review(); });
}

std::optional<Instant> Notices::ReviewAlarms(const std::vector<Hearing>& hearings) {
  std::vector<rules::Hearer> hearers;
  hearers.reserve(hearings.size());
  for (const Hearing& hearing : hearings) hearers.push_back(HearerNow(hearing));
  const Instant now = context_.now();
  const auto asking = Asking();
  SayUnderItsName(asking);
  const rules::DueNotices due = NoticesDue(hearers, asking, said_, context_.book().Home(), now);
  for (const rules::Notice& notice : due.now) {
    const auto hearing = std::ranges::find(hearings, notice.hearer, &Hearing::Name);
    const rules::Alarm* alarm = AlarmOf(notice.alarm);
    if (hearing == hearings.end() || alarm == nullptr) continue;
    const Letters::Before before = BeforeOf(notice);
    said_.Add({notice, now, false, alarm->severity >= rules::Severity::kAct});
    NoticeRow row;
    row.key = KeyOf(notice);
    row.kind = rules::ToText(notice.kind);
    row.alarm = notice.alarm;
    row.asked = notice.asked;
    row.nth = notice.nth;
    Say(*hearing, std::move(row), letters_.OfAlarm(notice, *alarm, before, FirstToldAt(notice)));
  }
  // Saying it once more may make another one due.
  if (due.now.empty()) return due.next;
  const auto after = NoticesDue(hearers, asking, said_, context_.book().Home(), now);
  return after.now.empty() ? after.next : std::optional(now);
}

// When whoever hears it was told what to do first; none: it is no repeat, or what was said may not have arrived.
std::optional<Instant> Notices::FirstToldAt(const rules::Notice& notice) const {
  if (notice.kind != rules::NoticeKind::kAgain) return std::nullopt;
  std::optional<Instant> told;
  for (const rules::Said::Entry& entry : said_.Of(notice.alarm)) {
    const bool rang = entry.notice.kind == rules::NoticeKind::kRings && entry.notice.hearer == notice.hearer;
    if (rang && entry.notice.asked == notice.asked && !entry.doubtful) told = entry.at;
  }
  return told;
}

Letters::Before Notices::BeforeOf(const rules::Notice& notice) const {
  const bool others = std::ranges::any_of(said_.Of(notice.alarm), [&](const rules::Said::Entry& entry) {
    return entry.notice.kind == rules::NoticeKind::kRings && entry.notice.hearer != notice.hearer &&
           entry.notice.asked == notice.asked && entry.at < context_.now() - kTogether;
  });
  const bool waited = context_.now() - notice.asked >= rules::kNextKeeperAfter;
  return others && waited ? Letters::Before::kOthersToo : Letters::Before::kNothing;
}

void Notices::Say(const Hearing& hearing, NoticeRow row, const Letter& letter) {
  row.made_at = context_.now();
  row.hearer = hearing.Name();
  row.letter = boost::json::serialize(ToJson(letter));
  std::vector<NoticeRow> rows;
  const auto add = [&](const char* way, const std::vector<std::string>& addresses) {
    for (const std::string& address : addresses) {
      if (IsEnd(row) && ToldEndBy(row.alarm, {way, address})) continue;
      NoticeRow& one = rows.emplace_back(row);
      one.way = way;
      one.address = address;
      one.key += fmt::format(" | {} {}", way, address);
    }
  };
  add("mail", hearing.mail);
  add("webhook", hearing.webhooks);
  if (!rows.empty()) queue_.Put(std::move(rows));
}

std::optional<Parcel> Notices::ParcelOf(const NoticeRow& row, const Letter& letter, std::string& why) {
  // As the letter itself leads, whatever way it goes.
  const auto link = std::ranges::find(letter.blocks, Letter::Block::Kind::kLink, &Letter::Block::kind);
  return rindwatch::ParcelOf(context_, row, letter, link == letter.blocks.end() ? ways_.page + "/round" : link->address,
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
