#include "rules/notices/escalation.hpp"

#include <algorithm>
#include <array>

#include "rules/notices/who_hears.hpp"

namespace rindwatch::rules {

namespace {

bool Sounds(Severity severity) { return severity >= Severity::kAct; }

// Which repeat of what is at act it is, as it is kept; those of what is urgent are counted.
constexpr int kAtFifteen = 1, kAtFortyFive = 2, kAtLeaving = 3;

// Collects what is due of one alarm.
class Weighing {
 public:
  Weighing(const Asking& alarm, const Said& said, const DayTurn& turn, Instant now, DueNotices& into)
      : alarm_(alarm),
        said_(said.Of(alarm.alarm)),
        said_of_teller_(said.Of(alarm.told_by)),
        zone_(turn.zone),
        now_(now),
        into_(into) {}

  // `place` is the hearer's among those who are there; `alone`: nobody else is.
  void Rings(const Hearer& hearer, std::size_t place, bool alone) {
    const Said::Entry* first = Find(hearer.name, NoticeKind::kRings, 0);
    // Nobody needs to come for what is back inside. Of gas whoever may be in it hears.
    if (!first && alarm_.inside && !alarm_.of_people) return LookAt(now_ + kRestsFor);
    // What passed while it waited for the morning wakes no interest either; it is looked at again.
    if (!first && alarm_.eases && !Sounds(alarm_.severity)) return LookAt(now_ + kUrgentAgainAfter);
    if (!first) return DueAt(hearer, NoticeKind::kRings, 0, FirstAt(hearer, place));
    if (alarm_.severity == Severity::kUrgent) return Again(hearer, *first);
    if (!Sounds(alarm_.severity) || !alarm_.rings) return;
    OnceMore(hearer, *first, alone);
    Leaves(hearer, *first);
  }
  // `alone`: nobody else hears, so a tap that nobody signed is theirs.
  void Taken(const Hearer& hearer, bool alone) {
    const bool own = alarm_.taken_by == hearer.name || (alone && alarm_.taken_by.empty());
    if (own || !Sounds(alarm_.severity) || !Find(hearer.name, NoticeKind::kRings, 0)) return;
    if (!Find(hearer.name, NoticeKind::kTaken, 0)) DueAt(hearer, NoticeKind::kTaken, 0, now_);
  }
  void Over(const Hearer& hearer) {
    if (alarm_.news || !WasTold(said_, hearer.name) || WasToldOver(hearer.name)) return;
    if (WasTold(said_of_teller_, hearer.name)) return;  // that one's end is the end of both
    const bool waits = alarm_.severity != Severity::kUrgent && !WasWoken(hearer);
    DueAt(hearer, NoticeKind::kOver, 0, waits ? QuietUntil(hearer, zone_, now_).value_or(now_) : now_);
  }

 private:
  Instant FirstAt(const Hearer& hearer, std::size_t place) const {
    if (!Sounds(alarm_.severity)) return QuietUntil(hearer, zone_, now_).value_or(QuietlyAt());
    // The clock was ahead when it began: how long it has asked nobody knows, so all are told.
    if (alarm_.asked > now_) return now_;
    // Whoever is there must not be the only one who is told.
    if (alarm_.of_people) return alarm_.asked;
    // It is another matter now, and who was called, or took the lesser thing, may be there already.
    const bool concerned = WasTold(said_, hearer.name) || alarm_.taken_by == hearer.name;
    if (alarm_.severity == Severity::kUrgent && concerned) return alarm_.asked;
    return CallsSince(hearer) + (place == 0 ? std::chrono::minutes{0} : place == 1 ? kNextKeeperAfter : kAllAfter);
  }
  // Since when keepers are called one after the other. What grew worse untaken goes on calling; whoever was called
  // longer ago than that takes was called, or it was set aside; before somebody stopped the bell, whoever that was,
  // none was in vain. Whoever hears of what is urgent alone was not, and is called as if they had heard of it all:
  // nobody has come yet.
  Instant CallsSince(const Hearer& hearer) const {
    Instant since = alarm_.asked;
    if (alarm_.severity != Severity::kUrgent || !alarm_.taken_by.empty()) return since;
    for (const Said::Entry& entry : said_) {
      const bool calls = entry.loud && entry.notice.kind == NoticeKind::kRings;
      const bool lately = entry.notice.asked >= alarm_.asked - kAllAfter || hearer.least == Severity::kUrgent;
      const bool heard = alarm_.quieted && entry.notice.asked <= *alarm_.quieted;
      if (calls && lately && !heard) since = std::min(since, entry.notice.asked);
    }
    return since;
  }
  Instant QuietlyAt() const {
    if (alarm_.asked > now_) return now_;
    return alarm_.asked + std::max<Millis>(alarm_.may_grow ? kMayGrowFor : std::chrono::minutes{0}, alarm_.awaited);
  }
  void Again(const Hearer& hearer, const Said::Entry& first) {
    const Said::Entry* last = &first;
    for (const Said::Entry& entry : said_) {
      const Notice& notice = entry.notice;
      if (notice.hearer == hearer.name && notice.kind == NoticeKind::kAgain && notice.asked == alarm_.asked &&
          notice.nth > last->notice.nth)
        last = &entry;
    }
    const int nth = last->notice.nth + 1;
    // Nobody needs to come for what is back inside; it is looked at again, for it may leave once more.
    if (alarm_.inside) return LookAt(now_ + kUrgentAgainAfter);
    // A clock that was set back must not make a repeat wait for as long.
    if (last->at > now_) return DueAt(hearer, NoticeKind::kAgain, nth, now_);
    const bool often = nth <= kUrgentOften && !alarm_.eases;
    const auto quiet = alarm_.keeps ? QuietUntil(hearer, zone_, now_) : std::nullopt;
    Instant at = last->at + (often && !quiet ? kUrgentAgainAfter : kUrgentLaterAfter);
    // Once they are over it comes as by day.
    if (often && quiet) at = std::min(at, std::max(*quiet, last->at + kUrgentAgainAfter));
    DueAt(hearer, NoticeKind::kAgain, nth, at);
    // What eases is looked at again, for it may turn.
    if (alarm_.eases) LookAt(now_ + kUrgentAgainAfter);
  }
  // Of what is at act. Where another one would be called and there is none, whoever was is called again; and what may
  // never have arrived comes once more.
  void OnceMore(const Hearer& hearer, const Said::Entry& first, bool alone) {
    const Said::Entry* second = Find(hearer.name, NoticeKind::kAgain, kAtFifteen);
    if (second && (!alone || Find(hearer.name, NoticeKind::kAgain, kAtFortyFive))) return;
    if (!second && !alone && !first.doubtful) return;
    if (alarm_.inside || alarm_.eases) return LookAt(now_ + kRestsFor);
    const int nth = second ? kAtFortyFive : kAtFifteen;
    // A clock that was set back must not make it wait for as long.
    if ((second ? second->at : first.at) > now_) return DueAt(hearer, NoticeKind::kAgain, nth, now_);
    Instant at = first.at + (second ? kAllAfter : kNextKeeperAfter);
    // Whoever comes sooner to a power cut by night mends nothing: each hour, as once it is urgent.
    if (alarm_.keeps && QuietUntil(hearer, zone_, now_)) at = (second ? second->at : first.at) + kUrgentLaterAfter;
    if (second) at = std::max(at, second->at + (kAllAfter - kNextKeeperAfter));
    if (const Said::Entry* left = Find(hearer.name, NoticeKind::kAgain, kAtLeaving))
      at = std::max(at, left->at + kNextKeeperAfter);
    DueAt(hearer, NoticeKind::kAgain, nth, at);
  }
  // What was foreseen has come, and nobody has taken it: whoever was told of it before hears so, once.
  void Leaves(const Hearer& hearer, const Said::Entry& first) {
    const bool since = alarm_.leaves && *alarm_.leaves > first.at;
    if (!since || alarm_.inside || alarm_.eases || Find(hearer.name, NoticeKind::kAgain, kAtLeaving)) return;
    Instant at = std::max(*alarm_.leaves, first.at + kNextKeeperAfter);
    for (const int nth : {kAtFifteen, kAtFortyFive}) {
      if (const Said::Entry* said = Find(hearer.name, NoticeKind::kAgain, nth))
        at = std::max(at, said->at + kNextKeeperAfter);
    }
    DueAt(hearer, NoticeKind::kAgain, kAtLeaving, at);
    // What is foreseen is foreseen anew now and then.
    if (at > now_) LookAt(now_ + kNextKeeperAfter);
  }
  const Said::Entry* Find(const std::string& hearer, NoticeKind kind, int nth) const {
    const auto entry = std::find_if(said_.begin(), said_.end(), [&](const Said::Entry& one) {
      const Notice& notice = one.notice;
      return notice.hearer == hearer && notice.kind == kind && notice.asked == alarm_.asked && notice.nth == nth;
    });
    return entry == said_.end() ? nullptr : &*entry;
  }
  // Who was called in their quiet hours, which last, waits for its end.
  bool WasWoken(const Hearer& hearer) const {
    const auto ends = QuietUntil(hearer, zone_, now_);
    return ends && std::any_of(said_.begin(), said_.end(), [&](const Said::Entry& one) {
             return one.notice.hearer == hearer.name && one.notice.kind == NoticeKind::kRings && one.at <= now_ &&
                    QuietUntil(hearer, zone_, one.at) == ends;
           });
  }
  static bool WasTold(const std::vector<Said::Entry>& said, const std::string& hearer) {
    return std::any_of(said.begin(), said.end(), [&](const Said::Entry& one) {
      return one.notice.hearer == hearer && one.notice.kind == NoticeKind::kRings;
    });
  }
  bool WasToldOver(const std::string& hearer) const {
    return std::any_of(said_.begin(), said_.end(), [&](const Said::Entry& one) {
      return one.notice.hearer == hearer && one.notice.kind == NoticeKind::kOver;
    });
  }
  void DueAt(const Hearer& hearer, NoticeKind kind, int nth, Instant at) {
    if (at <= now_)
      into_.now.push_back({hearer.name, alarm_.alarm, kind, alarm_.asked, nth});
    else
      LookAt(at);
  }
  void LookAt(Instant at) { into_.next = std::min(into_.next.value_or(at), at); }

  const Asking& alarm_;
  const std::vector<Said::Entry>& said_;
  const std::vector<Said::Entry>& said_of_teller_;
  const Zone& zone_;
  Instant now_;
  DueNotices& into_;
};

// Who is asked, in order. What can wait does so where all are away; what sounds is said to each of them.
std::vector<const Hearer*> Asked(std::span<const Hearer> hearers, Severity severity, Date today) {
  return WhoHears(hearers, severity, today, Sounds(severity) ? AllAway::kEach : AllAway::kNobody);
}

}  // namespace

std::string_view ToText(NoticeKind kind) {
  switch (kind) {
    case NoticeKind::kRings:
      return "rings";
    case NoticeKind::kAgain:
      return "again";
    case NoticeKind::kTaken:
      return "taken";
    case NoticeKind::kOver:
      return "over";
  }
  return "";
}

std::optional<NoticeKind> NoticeKindFrom(std::string_view text) {
  for (const NoticeKind kind :
       std::array{NoticeKind::kRings, NoticeKind::kAgain, NoticeKind::kTaken, NoticeKind::kOver})
    if (ToText(kind) == text) return kind;
  return std::nullopt;
}

void Said::Add(Entry entry) { by_alarm_[entry.notice.alarm].push_back(std::move(entry)); }

void Said::Doubt(const Notice& notice) {
  for (Entry& entry : by_alarm_[notice.alarm])
    if (entry.notice == notice) entry.doubtful = true;
}

const std::vector<Said::Entry>& Said::Of(const std::string& alarm) const {
  static const std::vector<Entry> nothing;
  const auto found = by_alarm_.find(alarm);
  return found == by_alarm_.end() ? nothing : found->second;
}

DueNotices NoticesDue(std::span<const Hearer> hearers, std::span<const Asking> alarms, const Said& said,
                      const DayTurn& turn, Instant now) {
  DueNotices due;
  const Date today = turn.DayOf(now);
  for (const Asking& alarm : alarms) {
    Weighing weighing(alarm, said, turn, now, due);
    if (alarm.rings || alarm.news) {
      const auto asked = Asked(hearers, alarm.severity, today);
      for (std::size_t place = 0; place < asked.size(); ++place)
        weighing.Rings(*asked[place], place, asked.size() == 1);
    }
    for (const Hearer& hearer : hearers) {
      if (alarm.over) {
        weighing.Over(hearer);
      } else if (alarm.taken) {
        weighing.Taken(hearer, hearers.size() == 1);
      }
    }
  }
  return due;
}

}  // namespace rindwatch::rules
