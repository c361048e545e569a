// The facts of one line while they are collected. Each family of acts has a file of its own.
#pragma once

#include <boost/json.hpp>
#include <vector>

#include "daemon/book/line.hpp"

namespace rindwatch {

class FactSheet {
 public:
  // Parses the line's body and what was given to it; throws what the parser throws. `of` must outlive the sheet.
  explicit FactSheet(const JournalLine& of);

  // From the line's own instant on.
  void Add(const char* subject_kind, std::int64_t subject, const char* what, boost::json::value value);
  void AddFrom(rules::Instant from, rules::WheelId wheel, const char* what, boost::json::value value);
  void ForWheels(const char* what, const boost::json::object& value);
  // The caves that the line made, outermost first.
  void Caves();
  // The place of the line's wheels, numbered from the door on; `nth` is a wheel's place in the line.
  void Places(const boost::json::object& where);
  void Place(const boost::json::object& where, std::size_t nth);
  // {start, day, reckoned, wheels} each: start events that follow from the act.
  void Starts();

  const JournalLine& line;
  boost::json::object body, given;
  std::vector<Fact> facts;
};

boost::json::value OrNull(const boost::json::object& object, const char* name);

// ---- by kind ----
void CareFacts(FactSheet& sheet);
void EnterFacts(FactSheet& sheet);
void HoldFacts(FactSheet& sheet);
void CutFacts(FactSheet& sheet);
void SplitFacts(FactSheet& sheet);
void BandFacts(FactSheet& sheet);
void OrderFacts(FactSheet& sheet);
void CalendarFacts(FactSheet& sheet);
void AwayFacts(FactSheet& sheet);
void PastFacts(FactSheet& sheet);
void ShareFacts(FactSheet& sheet);
void KeeperFacts(FactSheet& sheet);
void FeedFacts(FactSheet& sheet);
void HearingFacts(FactSheet& sheet);
void FaultFacts(FactSheet& sheet);
void RuleFacts(FactSheet& sheet);
void VouchFacts(FactSheet& sheet);
void ReleaseFacts(FactSheet& sheet);
void PlanFacts(FactSheet& sheet);
void PlanTextFacts(FactSheet& sheet);

}  // namespace rindwatch
