// Which notices of alarms are due: a pure function of who hears, what asks, what was said and the time. Whoever calls
// it again with the same gets the same, so that a restart says nothing twice and forgets nothing.
//
//   act, urgent    the first keeper at once, the next after 15 minutes, all after 45, until it is taken; at any hour;
//                  who is called alone hears it again after 15 and 45 minutes, and whoever heard it once the first
//                  wheel has left its band; what became urgent is told at once to whoever heard of it before, and puts
//                  nobody off who was to be called for what it was; gas to all
//   urgent         again every 15 minutes for two hours, then every hour, until it is taken; every hour while what was
//                  wrong is on its way back, and not at all while it is back within its band; a power cut in quiet
//                  hours every hour from the first: the place is kept shut, and whoever comes sooner mends nothing
//   hint, watch    everybody who wants them, outside of quiet hours and while it does not ease; what may grow waits ten
//                  minutes for that, and what is about to be known is waited for, so that one event does not come twice
//                  in a row
//   any            while what was wrong is back within its band nobody is called who was not yet, but for gas
//   taken, over    whoever was told of it hears that too; that it is over outside of quiet hours, of what was urgent
//                  at once; of what another alarm tells, only to whoever did not hear of that one
// The hours and their order: common practice, no source.
#pragma once

#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "rules/notices/hearer.hpp"

namespace rindwatch::rules {

inline constexpr std::chrono::minutes kMayGrowFor{10};
inline constexpr std::chrono::minutes kNextKeeperAfter{15};
inline constexpr std::chrono::minutes kAllAfter{45};
inline constexpr std::chrono::minutes kUrgentAgainAfter{15};
inline constexpr int kUrgentOften = 8;  // so many times at this distance
inline constexpr std::chrono::minutes kUrgentLaterAfter{60};
// What calls nobody because it is back, or comes back, is looked at again so often: it may leave once more.
inline constexpr std::chrono::minutes kRestsFor{5};

// An alarm as far as notices are concerned.
struct Asking {
  std::string alarm;
  Severity severity = Severity::kWatch;
  Instant asked;                    // when it last began to ask: raised, worse, or no longer set aside
  bool rings = false;               // nobody took it and it lasts
  bool inside = false;              // it lasts, and what was wrong is back within its band
  bool eases = false;               // it lasts, and what was wrong is on its way back, or just came back
  bool of_people = false;           // gas: whoever may be in it has to hear
  bool may_grow = false;            // a quiet word about what may soon be a loud one
  bool keeps = false;               // a power cut: kept shut it keeps, and to come sooner mends nothing
  bool news = false;                // told although it is over already: that nobody watched for a while
  std::optional<Instant> leaves{};  // while it rings: when the first wheel has left its band by it, or will have
  Millis awaited{0};                // so long its first word waits for what is about to be heard: hint and watch alone
  std::optional<Instant> taken, over;
  // When it was last taken or set aside, before it got worse; none: never. Whoever was called until then was heard.
  std::optional<Instant> quieted{};
  std::string taken_by;  // initials; empty: not known, or one keeps alone
  std::string told_by;   // the alarm that tells of the same event; empty: none
};

// Stored by their text.
enum class NoticeKind { kRings, kAgain, kTaken, kOver };
std::string_view ToText(NoticeKind kind);
std::optional<NoticeKind> NoticeKindFrom(std::string_view text);

struct Notice {
  std::string hearer, alarm;
  NoticeKind kind = NoticeKind::kRings;
  Instant asked;  // of the alarm: a later asking is another matter
  int nth = 0;    // of the repeats
  bool operator==(const Notice&) const = default;
};

// What was said, or is waiting to be sent.
class Said {
 public:
  struct Entry {
    Notice notice;
    Instant at;
    bool doubtful = false;  // whether it arrived cannot be known
    bool loud = false;      // it told of what was at act or above
  };
  void Add(Entry entry);
  // Of the same hearer, alarm, kind, asking and repeat.
  void Doubt(const Notice& notice);
  const std::vector<Entry>& Of(const std::string& alarm) const;

 private:
  std::unordered_map<std::string, std::vector<Entry>> by_alarm_;
};

struct DueNotices {
  std::vector<Notice> now;
  std::optional<Instant> next;  // when to look again, if nothing else happens
};

// `hearers` in the order in which they are asked to come; `turn` is the house's.
DueNotices NoticesDue(std::span<const Hearer> hearers, std::span<const Asking> alarms, const Said& said,
                      const DayTurn& turn, Instant now);

}  // namespace rindwatch::rules
