// The open book: everything that the journal's facts say, in memory. Built by taking in facts in the order of the
// journal, at the start and live alike. Owned by the loop.
#pragma once

#include <boost/json/object.hpp>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "daemon/book/act_notes.hpp"
#include "daemon/book/boards.hpp"
#include "daemon/book/line.hpp"
#include "daemon/book/rows.hpp"
#include "daemon/book/settings.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch {

class Book {
 public:
  // `home` is the turn of the day of every cave. Plans of the library are known; others come as facts.
  explicit Book(rules::DayTurn home);

  void Take(const JournalLine& line, const Fact& fact);
  // Changes whenever something was taken in.
  std::uint64_t Version() const { return version_; }
  static constexpr std::size_t kMostNewest = 300;
  // Keeps the line among the newest, for the journal's page.
  void Remember(JournalLine line);

  const rules::DayTurn& Home() const { return home_; }
  // The settings of a cave for the care of what lies in it; none: of what lies nowhere of ours. Good until the next
  // fact is taken in.
  const rules::CareCalendar& CalendarOf(std::optional<rules::CaveId> cave) const;

  // ---- the present; rows that an undo took away are not in it ----
  std::vector<const CaveRow*> Caves() const;    // in the keeper's order, else as they came; outer before inner
  std::vector<const WheelRow*> Wheels() const;  // not gone, in the order in which they came
  // The same one by one: a row that was looked at is not fetched from memory a second time.
  void ForEachWheel(const std::function<void(const WheelRow&)>& visit) const;
  std::size_t GoneCount() const;
  std::vector<const WheelRow*> GoneWheels() const;  // the last that left first
  std::vector<const ProbeRow*> Probes() const;
  // A cave stays although the act that made it is undone, as long as something is in it.
  const CaveRow* Cave(rules::CaveId id) const;
  const WheelRow* Wheel(rules::WheelId id) const;  // gone ones too
  // The history that the wheel shares with others; null: nothing was said of it yet. Two wheels share one if the
  // pointers are equal; good until the next fact is taken in.
  const WheelLife* LifeOf(const WheelRow& wheel) const { return wheel.life.get(); }
  const ProbeRow* Probe(rules::ProbeId id) const;
  const ProbeRow* ProbeOfTopic(const std::string& filter) const;
  const LotRow& Lot(LotId id) const { return lots_.at(id); }
  bool IsLotNamed(const std::string& name) const;
  Place PlaceOf(const WheelRow& wheel) const;
  bool IsGone(const WheelRow& wheel) const { return GoneBy(wheel) != nullptr; }
  const Since<Leaving>* GoneBy(const WheelRow& wheel) const;  // null: it is here
  std::optional<rules::CaveId> HangsIn(const ProbeRow& probe) const;
  std::string WheelName(const WheelRow& wheel) const;  // "Bloomy 3"; stays whatever plan it follows later
  std::string FamilyOf(const WheelRow& wheel) const;   // the short one of the plan that it follows
  // A lone wheel's lot does not show, but one that a keeper split off and named.
  bool ShowsLot(LotId lot) const;
  // Changes whenever a wheel comes to lie elsewhere.
  std::uint64_t BoardsVersion() const { return boards_.Version(); }
  // Counted from the door on its shelf, from 1; no two wheels of a shelf have one number. 0: gone.
  int NumberOf(const WheelRow& wheel) const;
  // How many wheels of its lot lie on its shelf, itself among them; 0: gone.
  int LotOnShelf(const WheelRow& wheel) const;
  // Boards of that name are in more than one cave: the name alone does not say which is meant.
  bool IsShelfInTwoCaves(const std::string& shelf) const;
  // The next free number at the end of a shelf, `except` left out of the count.
  int NextDoorNumber(rules::CaveId cave, const std::string& shelf, const std::vector<rules::WheelId>& except) const;

  // ---- what keepers said of a wheel; undone lines are not in it ----
  const Since<Hold>* HoldOf(const WheelRow& wheel) const;  // null: not held
  const Since<Cut>* CutOf(const WheelRow& wheel) const;    // the newest; null: whole
  const OwnBand* BandOf(const WheelRow& wheel) const;      // null: its stages'
  rules::Grams WeightOf(const WheelRow& wheel) const;      // when it was weighed last, else entered; 0: unknown
  std::vector<const Since<std::optional<Mark>>*> MarksOf(const WheelRow& wheel) const;  // each holds a mark
  // The fault at which a care was agreed, by the care's id; null: none is known.
  const FaultSeen* FaultOf(const rules::ActId& agreed) const;
  // Questions that a keeper put off on that day.
  std::vector<std::string> PutOffOn(const WheelRow& wheel, rules::Date day) const;
  // Null: no rule; else it holds one.
  const Since<std::optional<rules::QualifyingRule>>* RuleOf(const WheelRow& wheel) const;
  std::vector<rules::Vouch> VouchesOf(const WheelRow& wheel) const;
  const Since<Release>* ReleaseOf(const WheelRow& wheel) const;  // null: not let go

  // ---- the house as a whole ----
  std::vector<std::string> Keepers() const;  // initials, in the order in which they came; empty: one keeper alone
  bool IsByRoom() const;                     // one room is finished before the next
  std::vector<std::string> ShelvesOf(const CaveRow& cave) const;  // in walking order, then by name
  std::vector<const Since<Absence>*> Absences() const;            // by their first day
  std::vector<Share> SharesOn(rules::Date day) const;             // each cave and line in one of them at most
  std::vector<Hearing> Hearings() const;                          // in the order in which they are asked to come
  std::string FeedSecret() const;                                 // empty: the calendar is not open

  // ---- numbers for new rows ----
  std::int64_t NextCave() const { return Next(caves_); }
  std::int64_t NextLot() const { return Next(lots_); }
  std::int64_t NextWheel() const { return Next(wheels_); }
  std::int64_t NextProbe() const { return Next(probes_); }
  std::int64_t NextChannel() const { return next_channel_; }
  int NextNumberOf(const rules::Plan& plan) const;

  // ---- plans ----
  std::shared_ptr<const rules::Plan> Plan(const std::string& id, int version) const;  // undone ones too
  // The newest of each: the library's in its order, then the keeper's own.
  std::vector<std::shared_ptr<const rules::Plan>> Offered() const;
  bool IsPlanKept(const std::string& id, int version) const;  // its text lies in the journal
  // Its file, with the comments that came with it.
  std::string PlanFile(const rules::Plan& plan) const;
  struct PlanVersion {
    int version = 0;
    const KeptPlan* kept = nullptr;  // null: only the library holds it
  };
  std::vector<PlanVersion> VersionsOf(const std::string& id) const;  // ascending; undone ones left out
  int NextVersionOf(const std::string& id) const;                    // 1: nobody knows the plan

  // ---- acts ----
  bool IsUndone(const rules::ActId& id, std::optional<rules::WheelId> wheel = std::nullopt) const;
  // Of an undo: those of the act that it names, as far as they are known by now.
  std::vector<rules::WheelId> WheelsOf(const rules::ActId& id) const;
  // Since when and why a probe is out of service; null: it serves.
  const Since<ProbeService>* OutOfService(const ProbeRow& probe) const;
  const std::string* CalledAs(const std::string& alarm) const;  // what it was
  const std::string* RemarkOn(const std::string& alarm) const;  // and what was done, in the keeper's words; null: none
  struct Took {
    rules::Instant at;           // when it was tapped
    rules::Instant received_at;  // and when it arrived
    std::string keeper;          // empty where one keeps alone
  };
  struct Taking : Took {
    bool asks_again = false;   // it got worse since: who took the lesser thing did not take this
    std::vector<Took> others;  // what arrived while this one stood, of each other keeper the first
  };
  // Of those that arrived since it last asked the first: whoever was told of two can only be told of one who goes.
  // Where none has, the one that stood before. Null: nobody took it.
  const Taking* TakenBy(const std::string& alarm) const;
  const std::string* KeeperOf(const rules::ActId& id) const;  // where one is named
  // A taking or setting aside: the bell has stopped, which nobody can undo.
  bool IsAlarmAct(const rules::ActId& id) const { return alarm_acts_.contains(id); }
  // Every alarm as it was at its last change, by its id; "asked" is the instant at which it last began to ask.
  const std::map<std::string, boost::json::object>& AlarmRecords() const { return alarms_; }
  const std::deque<JournalLine>& Newest() const { return newest_; }

  // What the engine must hear of a line whose facts were just taken.
  std::vector<rules::Input> InputsOf(const JournalLine& line, const std::vector<Fact>& facts) const;
  // What an engine without a memory must hear first: all that holds now.
  std::vector<rules::Input> InputsOfAll() const;

 private:
  struct Undo {
    rules::ActId id;
    std::optional<std::vector<rules::WheelId>> wheels;  // none: all of the act
    rules::Instant at;
  };
  template <typename Row>
  static std::int64_t Next(const std::map<std::int64_t, Row>& rows) {
    return rows.empty() ? 1 : rows.rbegin()->first + 1;
  }
  void TakeWheel(const JournalLine& line, const Fact& fact);
  void TakeCare(WheelRow& wheel, const JournalLine& line, const Fact& fact);
  // Whatever a keeper can say of a wheel beside its cares.
  void TakeState(WheelRow& wheel, const JournalLine& line, const Fact& fact);
  void TakeAgreed(WheelRow& wheel, const JournalLine& line, const Fact& fact);
  void SettleWheel(WheelRow& wheel);
  void SettleLot(WheelRow& wheel);
  void SettlePlace(const WheelRow& wheel);
  void TakeProbe(const JournalLine& line, const Fact& fact);
  void TakeUndo(const JournalLine& line, const Fact& fact);
  void TakeAlarm(const JournalLine& line, const Fact& fact);
  void TakeTaking(const std::string& alarm, Took took);
  void TakeCave(const JournalLine& line, const Fact& fact);
  void TakePlanText(const JournalLine& line, const Fact& fact);
  bool IsPlanThere(const std::string& id, int version) const;
  void TakeHouse(const JournalLine& line, const Fact& fact);
  void TakeWalk(CaveRow& cave, const JournalLine& line, const Fact& fact);
  void SettleWalk(CaveRow& cave) const;
  void SettleCave(CaveRow& cave) const;
  void SettleProbe(ProbeRow& probe) const;
  bool IsThere(const CaveRow& cave) const;
  // The act that an undo, or an undo of an undo, comes down to; any other act itself.
  rules::ActId RootOf(rules::ActId act) const;
  void HandUndosToHistory(WheelRow& wheel, const rules::ActId& of);
  // `part`: "", or the end of the name of one of the act's parts.
  void HandUndosToHistory(WheelRow& wheel, const rules::ActId& of, const std::string& part);
  bool IsUndone(const rules::ActId& id, std::optional<rules::WheelId> wheel, int depth) const;
  rules::Input WheelInput(const WheelRow& wheel) const;
  rules::Input CaveInput(const CaveRow& cave) const;
  void AddProbeInputs(const ProbeRow& probe, std::vector<rules::Input>& into) const;
  void AddUndoneInputs(const rules::ActId& of, std::vector<rules::Input>& into) const;

  rules::DayTurn home_;
  std::map<rules::CaveId, CaveRow> caves_;
  std::map<LotId, LotRow> lots_;
  std::unordered_map<LotId, int> lot_sizes_;
  std::map<rules::WheelId, WheelRow> wheels_;
  Lives lives_;
  std::map<rules::ProbeId, ProbeRow> probes_;
  std::int64_t next_channel_ = 1;
  std::map<std::pair<std::string, int>, std::shared_ptr<const rules::Plan>> plans_;
  std::map<std::pair<std::string, int>, KeptPlan> kept_plans_;
  ActNotes notes_;
  std::unordered_map<rules::ActId, std::vector<Undo>> undos_;  // by the act that they name
  std::unordered_map<rules::ActId, rules::ActId> undo_of_;     // which act an undo names
  struct Called {
    std::string what, remark;
  };
  std::unordered_map<std::string, std::vector<Since<Called>>> called_;  // by alarm
  std::unordered_map<std::string, Taking> takings_;                     // likewise
  std::set<rules::ActId> alarm_acts_;
  std::unordered_map<rules::ActId, FaultSeen> faults_;  // by the act that tells of it
  std::map<std::string, boost::json::object> alarms_;
  Settings settings_;
  mutable std::map<std::optional<rules::CaveId>, rules::CareCalendar> calendars_;  // worked out when asked
  std::uint64_t version_ = 0;
  std::deque<JournalLine> newest_;
  Boards boards_;
};

}  // namespace rindwatch
