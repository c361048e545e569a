#include "daemon/notices/queue.hpp"

#include <algorithm>
#include <array>
#include <boost/json.hpp>
#include <set>

namespace rindwatch {

using rules::Instant;
using rules::Millis;
using std::chrono::minutes;

namespace {

constexpr Millis kKnownFor = NoticeQueue::kLongest + std::chrono::hours{24};
constexpr Millis kKeepAgainAfter = minutes{1};
constexpr Millis kDay = std::chrono::hours{24};
constexpr Millis kNoWayAgainAfter = minutes{60};
constexpr Millis kRefusedAgainAfter = minutes{30};

std::string AddressOf(const NoticeRow& row) { return row.way + " " + row.address; }
bool IsList(const NoticeRow& row) { return row.kind == "morning" || row.kind == "evening"; }
bool IsRefused(const NoticeRow& row) { return row.state == "refused"; }
bool Waits(const NoticeRow& row) { return row.state == "waiting" || IsRefused(row); }

}  // namespace

Millis NoticeQueue::BackOff(int tries) {
  static constexpr std::array kSteps{minutes{1}, minutes{2}, minutes{5}, minutes{10}, minutes{15}};
  if (tries < 1) return minutes{0};
  const auto nth = static_cast<std::size_t>(tries - 1);
  return nth < kSteps.size() ? kSteps[nth] : minutes{30};
}

NoticeQueue::NoticeQueue(Store& store, Scheduler& scheduler, const rules::Clock& clock, Carrier* carrier, Hooks hooks)
    : store_(store), scheduler_(scheduler), clock_(clock), carrier_(carrier), hooks_(std::move(hooks)) {}

void NoticeQueue::Load(std::vector<NoticeRow> all) {
  Rows doubtful;
  for (NoticeRow& row : all) {
    known_[row.key] = {row.made_at, row.number, row.state == "given up" && row.why == hooks_.left};
    auto kept = std::make_shared<NoticeRow>(std::move(row));
    if (Waits(*kept)) {
      Way& way = ways_[AddressOf(*kept)];
      if (kept->next_at && !IsRefused(*kept))
        way.not_before = std::max(way.not_before.value_or(*kept->next_at), *kept->next_at);
      rows_.push_back(std::move(kept));
    } else if (kept->state == "handing") {
      // It was on its way when the watch ended.
      kept->state = "doubtful";
      kept->done_at = clock_.Wall();
      doubtful.push_back(std::move(kept));
    }
  }
  for (const Row& row : doubtful) hooks_.on_change(*row);
  if (!doubtful.empty()) Keep(doubtful, [] {});
  Work();
}

void NoticeQueue::Put(std::vector<NoticeRow> rows) {
  Rows added;
  std::erase_if(known_, [&](const auto& known) { return clock_.Wall() - known.second.made_at > kKnownFor; });
  for (NoticeRow& row : rows) {
    row.state = "waiting";
    known_[row.key] = {row.made_at, row.number};
    added.push_back(std::make_shared<NoticeRow>(std::move(row)));
  }
  // Written first, sent then; where the disk is full it is sent all the same.
  Keep(added, [this, added] {
    for (const Row& row : added) {
      hooks_.on_change(*row);
      rows_.push_back(row);
    }
    Work();
  });
}

void NoticeQueue::Rename(NoticeRow row) {
  Keep({std::make_shared<NoticeRow>(std::move(row))}, [] {});
}

void NoticeQueue::Keep(const Rows& rows, std::function<void()> then) {
  std::vector<NoticeRow> copies;
  for (const Row& row : rows) copies.push_back(*row);
  store_.WriteNotices(std::move(copies),
                      [this, rows, then = std::move(then)](const std::vector<std::int64_t>& numbers) {
                        for (std::size_t i = 0; i < numbers.size(); ++i) rows[i]->number = numbers[i];
                        if (numbers.empty()) {
                          for (const Row& row : rows)
                            if (std::ranges::find(unkept_, row) == unkept_.end()) unkept_.push_back(row);
                          scheduler_.WakeAt("unkept notices", clock_.Wall() + kKeepAgainAfter,
                                            [this] { Keep(std::exchange(unkept_, {}), [] {}); });
                        }
                        then();
                      });
}

void NoticeQueue::Work() {
  wake_.reset();
  Readdress();
  FoldTold();
  std::map<std::string, Rows> by_address;
  for (const Row& row : rows_)
    if (Waits(*row) && !IsLeft(*row)) by_address[AddressOf(*row)].push_back(row);
  for (const auto& [address, waiting] : by_address) WorkOn(address, waiting);
}

void NoticeQueue::WorkOn(const std::string& address, const Rows& all) {
  Way& way = ways_[address];
  if (way.busy) return;
  if (const auto at = ReadyAt(way, all)) return WakeAt(*at);
  const Rows waiting = FoldIntoList(all);
  Rows chosen = Choose(waiting);
  if (chosen.empty()) return;
  if (const auto until = RestsUntil(chosen)) {
    WakeAt(*until);
    // What rests holds up nothing else, and makes nothing else go sooner.
    Rows others;
    std::ranges::copy_if(waiting, std::back_inserter(others),
                         [&](const Row& row) { return Waits(*row) && std::ranges::find(chosen, row) == chosen.end(); });
    if (others.empty()) return;
    if (const auto at = ReadyAt(way, others)) return WakeAt(*at);
    chosen = Choose(others);
    if (chosen.empty()) return;
    if (const auto also = RestsUntil(chosen)) return WakeAt(*also);
  }
  Send(address, chosen);
}

std::optional<Instant> NoticeQueue::StuckSince() const {
  constexpr Millis kHiccup = minutes{10};
  std::optional<Instant> since;
  for (const Row& row : rows_) {
    if (row->state != "waiting" || row->tries == 0 || clock_.Wall() - row->made_at < kHiccup) continue;
    since = std::min(since.value_or(row->made_at), row->made_at);
  }
  return since;
}

// None: now. A clock that was set back makes nothing wait for it. News of an alarm is tried at once, however long it is
// until what waits already is tried again.
std::optional<Instant> NoticeQueue::ReadyAt(Way& way, const Rows& waiting) const {
  const Instant now = clock_.Wall();
  if (way.last && *way.last > now) way.last.reset();
  if (way.not_before && *way.not_before > now + BackOff(100)) way.not_before = now;
  const auto gathered = [now](const Row& row) { return row->made_at > now ? now : row->made_at + kGather; };
  Instant ready = gathered(waiting.front());
  if (way.last) ready = std::max(ready, *way.last + kBetween);
  if (std::ranges::all_of(waiting, [](const Row& row) { return IsRefused(*row); })) {
    const auto next_of = [](const Row& row) { return row->next_at.value_or(Instant::min()); };
    // One that lies further away than it can was said by a clock that was ahead.
    const Instant next = next_of(*std::ranges::min_element(waiting, {}, next_of));
    if (next <= now + kRefusedAgainAfter) ready = std::max(ready, next);
  }
  const auto is_news = [&](const Row& row) { return row->tries == 0 && !IsList(*row) && !row->next_at; };
  const auto news = std::ranges::find_if(waiting, is_news);
  if (way.not_before && news == waiting.end()) ready = std::max(ready, *way.not_before);
  if (news != waiting.end()) ready = std::max(ready, gathered(*news));
  return ready > now ? std::optional(ready) : std::nullopt;
}

// Alarms together, and first; of lists the newest, which overtakes the others; and by itself, after both, what was
// refused, which may be so for good: of alarms and lists that were what waits for longer.
NoticeQueue::Rows NoticeQueue::Choose(const Rows& waiting) {
  Rows alarms, refused, lists;
  for (const Row& row : waiting) (IsList(*row) ? lists : IsRefused(*row) ? refused : alarms).push_back(row);
  if (!alarms.empty()) return alarms;
  const bool all_refused = std::ranges::all_of(lists, [](const Row& row) { return IsRefused(*row); });
  const auto next_of = [](const Rows& rows) { return rows.front()->next_at.value_or(Instant::min()); };
  if (!refused.empty() && all_refused && (lists.empty() || next_of(refused) <= next_of(lists))) return refused;
  Rows over;
  for (const Row& row : lists) {
    if (clock_.Wall() < row->asked + kDay) continue;
    row->state = "given up";
    row->why = hooks_.day_over;
    row->done_at = clock_.Wall();
    row->next_at.reset();
    over.push_back(row);
  }
  Close(over);
  std::erase_if(lists, [](const Row& row) { return !Waits(*row); });
  if (lists.empty()) return {};
  const Row newest = lists.back();
  lists.pop_back();
  for (const Row& row : lists) {
    row->state = "folded";
    row->within = newest->number;
    row->done_at = clock_.Wall();
    row->next_at.reset();
  }
  Close(lists);
  return {newest};
}

std::optional<Instant> NoticeQueue::RestsUntil(const Rows& chosen) const {
  if (!hooks_.rests_until) return std::nullopt;
  return hooks_.rests_until(Views(chosen));
}

std::vector<const NoticeRow*> NoticeQueue::Views(const Rows& rows) {
  std::vector<const NoticeRow*> views;
  for (const Row& row : rows) views.push_back(row.get());
  return views;
}

void NoticeQueue::Send(const std::string& address, Rows rows) {
  const Letter letter = hooks_.letter_of(Views(rows));
  // What goes is what is kept, also where it speaks for several.
  rows.front()->letter = boost::json::serialize(ToJson(letter));
  if (!carrier_) return Show(address, rows);
  std::string why;
  auto parcel = hooks_.parcel_of(*rows.front(), letter, why);
  Way& way = ways_[address];
  if (!parcel) {
    const Instant now = clock_.Wall();
    way.not_before = now + kNoWayAgainAfter;
    Rows old;
    for (const Row& row : rows) {
      row->why = why;
      row->next_at = way.not_before;
      if (now - row->made_at >= kLongest) {
        row->state = "given up";
        row->done_at = now;
        old.push_back(row);
      }
    }
    Keep(rows, [] {});
    Close(old);
    return WakeAt(*way.not_before);
  }
  way.busy = true;
  parcel->lane = rows.front()->way == "mail" ? "mail" : address;
  const auto handing = [this, rows](const Carrier::Go& go) {
    for (const Row& row : rows) row->state = "handing";
    Keep(rows, go);
  };
  carrier_->Send(std::move(*parcel), handing,
                 [this, address, rows](const Outcome& outcome) { OnOutcome(address, rows, outcome); });
}

void NoticeQueue::Show(const std::string& address, const Rows& rows) {
  ways_[address].last = clock_.Wall();
  for (const Row& row : rows) {
    row->state = row == rows.front() ? "shown" : "folded";
    row->within = row == rows.front() ? 0 : rows.front()->number;
    row->done_at = clock_.Wall();
  }
  FoldOvertaken(address, rows);
  Close(rows);
  WakeAt(clock_.Wall() + kBetween);
}

void NoticeQueue::OnOutcome(const std::string& address, const Rows& rows, const Outcome& outcome) {
  Way& way = ways_[address];
  way.busy = false;
  const Instant now = clock_.Wall();
  for (const Row& row : rows) Settle(*row, outcome, *rows.front());
  // A letter that was refused says nothing of the others.
  const bool refused = outcome.kind == Outcome::Kind::kNever;
  way.not_before = refused ? std::nullopt : rows.front()->next_at;
  if (refused || outcome.kind == Outcome::Kind::kSent) way.last = now;
  if (outcome.kind == Outcome::Kind::kSent) {
    FoldOvertaken(address, rows);
    TryRefused(address);
  }
  Close(rows);
  Work();
}

void NoticeQueue::Settle(NoticeRow& row, const Outcome& outcome, const NoticeRow& first) {
  const Instant now = clock_.Wall();
  ++row.tries;
  row.why = outcome.what;
  row.next_at.reset();
  row.done_at = now;
  switch (outcome.kind) {
    case Outcome::Kind::kSent:
      row.state = &row == &first ? "sent" : "folded";
      row.within = &row == &first ? 0 : first.number;
      return;
    case Outcome::Kind::kNever:
      row.state = now - row.made_at >= kLongest ? "given up" : "refused";
      if (!IsRefused(row)) return;
      row.done_at.reset();
      row.next_at = now + kRefusedAgainAfter;
      return;
    case Outcome::Kind::kDoubtful:
      row.state = "doubtful";
      return;
    case Outcome::Kind::kNotNow:
      row.state = now - row.made_at >= kLongest ? "given up" : "waiting";
      if (row.state != "waiting") return;
      row.done_at.reset();
      row.next_at = now + BackOff(row.tries);
      return;
  }
}

void NoticeQueue::GoesThrough(const std::string& way, const std::string& address) {
  const std::string of = way + " " + address;
  TryRefused(of);
  if (const auto found = ways_.find(of); found != ways_.end()) found->second.not_before.reset();
  Work();
}

// What was to be told of an alarm before, and waits still or was refused, has been told by now: letters speak of how it
// stands.
void NoticeQueue::FoldOvertaken(const std::string& address, const Rows& told) {
  Rows overtaken;
  for (const Row& row : rows_) {
    const bool waits = Waits(*row) && AddressOf(*row) == address && !row->alarm.empty();
    const bool is_told = std::ranges::any_of(
        told, [&](const Row& one) { return one->alarm == row->alarm && one->made_at >= row->made_at; });
    if (!waits || !is_told) continue;
    row->state = "folded";
    row->within = told.front()->number;
    row->done_at = clock_.Wall();
    row->next_at.reset();
    overtaken.push_back(row);
  }
  Close(overtaken);
}

// A letter that was under way while this was made may have said it.
void NoticeQueue::FoldTold() {
  if (!hooks_.told_by) return;
  Rows folded;
  for (const Row& row : rows_) {
    const auto teller = Waits(*row) ? hooks_.told_by(*row) : std::nullopt;
    if (!teller) continue;
    row->state = "folded";
    row->within = *teller;
    row->done_at = clock_.Wall();
    row->next_at.reset();
    folded.push_back(row);
  }
  Close(folded);
}

// What the list of the morning says in the same minute to the same address is no letter beside it. Those that are left.
NoticeQueue::Rows NoticeQueue::FoldIntoList(const Rows& waiting) {
  const auto list = std::ranges::find_if(
      waiting, [](const Row& row) { return row->kind == "morning" && row->tries == 0 && row->state == "waiting"; });
  if (!hooks_.list_tells || list == waiting.end()) return waiting;
  Rows folded, left;
  for (const Row& row : waiting) {
    const Millis apart = row->made_at - (*list)->made_at;
    const bool told = !IsList(*row) && apart < kGather && -apart < kGather && hooks_.list_tells(*row);
    (told ? folded : left).push_back(row);
  }
  for (const Row& row : folded) {
    row->state = "folded";
    row->within = (*list)->number;
    row->done_at = clock_.Wall();
  }
  Close(folded);
  return left;
}

// The address takes letters again.
void NoticeQueue::TryRefused(const std::string& address) {
  for (const Row& row : rows_)
    if (IsRefused(*row) && AddressOf(*row) == address) row->next_at.reset();
}

// Writes what became of them; what is no longer open leaves.
void NoticeQueue::Close(const Rows& rows) {
  if (rows.empty()) return;
  for (const Row& row : rows) {
    if (!Waits(*row) && row->state != "handing") std::erase(rows_, row);
    hooks_.on_change(*row);
  }
  Keep(rows, [] {});
}

void NoticeQueue::WakeAt(Instant at) {
  if (wake_ && *wake_ <= at) return;
  wake_ = at;
  scheduler_.WakeAt("notices that wait", at, [this] { Work(); });
}

}  // namespace rindwatch
