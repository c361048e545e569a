// Who is told what, and when: hears of alarms from the watch, asks the rules which notices are due, has them written
// and hands them to the queue. Lives as long as the service; the loop's thread.
//
// What is due follows from the alarms, the keepers' wishes, what was said before and the time, so that a start after a
// crash finds what is missing and says nothing twice.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/clock/leap.hpp"
#include "daemon/notices/letters.hpp"
#include "daemon/notices/queue.hpp"
#include "daemon/watch/watch.hpp"
#include "rules/notices/escalation.hpp"
#include "rules/notices/mornings.hpp"

namespace rindwatch {

class Notices : public WatchListener {
 public:
  struct Ways {
    Carrier* carrier = nullptr;             // null: nothing leaves the house, what would have is shown
    std::string page;                       // the page's address, for links; may be set later, before Begin
    std::function<void()> changed = [] {};  // after anything that the page shows of notices changed
  };

  Notices(const ApiContext& context, Scheduler& scheduler, Ways ways);

  // Reads what was said and what waits, then begins.
  void Begin();
  void Stop();
  bool Begun() const { return begun_; }
  void SetPage(std::string address);
  const std::string& Page() const { return ways_.page; }
  bool Sends() const { return ways_.carrier != nullptr; }
  std::size_t Waiting() const { return queue_.Waiting(); }
  std::optional<rules::Instant> StuckSince() const { return queue_.StuckSince(); }
  // Addresses of those who hear that refused what was sent to them last, or never took it, with since when; until
  // something goes through, or nobody hears there any more.
  std::map<std::string, rules::Instant> Unreached() const;
  // Notices a clock that was set back, or on; cheap, call it now and again.
  void LookAtClock();
  // What the clocks show, when it is looked at them.
  void ShowClock(rules::Instant wall, rules::Millis monotonic);
  // Each time that the wall clock went on by far more than time did, in this life or the ones before; told for a day.
  std::vector<Leap> Leaps() const { return leaps_.AllTold(context_.now()); }

  // Until when the last lists told whoever reads them what had rung and was over: the earliest of them; none: nobody
  // reads lists.
  std::optional<rules::Instant> ToldUntil() const;

  // A test message to an address that a keeper hears by; the outcome comes within a minute.
  void Test(const std::string& way, const std::string& address, std::function<void(Outcome)> done);

 private:
  using Address = std::pair<std::string, std::string>;  // way and address

  void OnJudged() override { LookAtClock(); }
  void OnLine(const JournalLine& line, const std::vector<Fact>& facts) override;
  void OnDecisions(const std::vector<rules::Decision>& decisions) override;

  void Remember(const NoticeRow& row);
  void NoteOutcome(const NoticeRow& row);
  void NoteEnded(const NoticeRow& row);
  // The number of the letter that did; none: none has.
  std::optional<std::int64_t> ToldEndBy(const std::string& alarm, const Address& address) const;
  NoticeQueue::Addresses AddressesNow() const;
  void RememberOver();
  void ReviewSoon();
  void Review();
  std::optional<rules::Instant> ReviewAlarms(const std::vector<Hearing>& hearings);
  std::optional<rules::Instant> ReviewLists(const std::vector<Hearing>& hearings);
  rules::DayOfWork WorkOfToday(const std::vector<rules::ListReader>& readers) const;
  rules::Hearer HearerNow(const Hearing& hearing) const;
  bool ListTells(const NoticeRow& row);
  // `evening`: for the second list of the day, before which today's first one came.
  rules::Instant ToldUntil(const rules::ListReader& reader, bool evening) const;
  void ForgetListsOf(rules::Date after);
  void KeepLeap(const Leap& leap);
  void RecallLeaps();
  void ForgetLeaps();
  std::optional<rules::Instant> ReviewLeaps(const std::vector<Hearing>& hearings);
  std::optional<rules::Instant> ReviewLeap(const Leap& leap, const std::vector<Hearing>& hearings);
  std::vector<rules::Asking> Asking();
  void SayUnderItsName(const std::vector<rules::Asking>& asking);
  std::optional<rules::Instant> FirstLeaves(const rules::Alarm& alarm);
  const rules::Alarm* AlarmOf(const std::string& id);
  Letters::Before BeforeOf(const rules::Notice& notice) const;
  std::optional<rules::Instant> FirstToldAt(const rules::Notice& notice) const;
  void Say(const Hearing& hearing, NoticeRow row, const Letter& letter);
  std::optional<rules::Instant> RestsUntil(const std::vector<const NoticeRow*>& rows);
  Letter LetterOf(const std::vector<const NoticeRow*>& rows);
  Letter ListAnew(const NoticeRow& row) const;
  std::optional<rules::Instant> ListRestsUntil(const Hearing& hearing, const NoticeRow& row) const;
  std::optional<Parcel> ParcelOf(const NoticeRow& row, const Letter& letter, std::string& why);
  void OnChange(const NoticeRow& row);

  const ApiContext& context_;
  Scheduler& scheduler_;
  Ways ways_;
  Letters letters_;
  NoticeQueue queue_;
  bool begun_ = false, stopped_ = false;
  rules::Said said_;
  std::set<rules::ListSent> lists_;              // sent, or passed over
  std::map<Address, rules::Instant> unreached_;  // since when
  // Alarms of which a letter that reached it told the end, with its number.
  std::map<Address, std::map<std::string, std::int64_t>> told_ended_;
  std::map<rules::ListSent, std::vector<NoticeRow>> list_rows_;
  std::map<std::string, rules::Alarm> ended_;     // that are over since a while, by id
  std::map<std::string, rules::Decision> worse_;  // by which what stands last got worse, since the start, by id
  // Since when a wheel has left its band, of each that was looked at; none: none has yet.
  std::map<std::string, std::optional<rules::Instant>> leaving_;
  std::map<std::string, rules::Alarm> standing_;  // as the engine has them, of the last look
  std::optional<rules::Instant> reviewed_;
  LeapWatch leaps_;
  std::vector<Leap> unwritten_leaps_;                            // that were refused once
  std::set<std::pair<std::string, rules::Instant>> told_leaps_;  // to whom, and whereto the clock went
  bool set_back_ = false;                                        // the clock was, while we ran
};

}  // namespace rindwatch
