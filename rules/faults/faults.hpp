// What a keeper finds at the shelf, and what the trade does about it: a catalogue as data. Typed facts; the sentences
// stand in the words file under the keys that are named here. Constants, for any thread.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/faults/fault_kind.hpp"
#include "rules/plans/plan.hpp"
#include "rules/time.hpp"

namespace rindwatch::rules {

// A care that the coming days ask for, once, of the wheels with the fault.
struct FaultCare {
  int in_days = 1;
  CareKind kind = CareKind::kLook;
  std::optional<CareKind> instead_of{};  // where the wheel's plan has such a care pending, it waits for this one
};

// What is done about a fault on one kind of rind at one age.
struct FaultAdvice {
  FaultKind fault = FaultKind::kSomethingElse;
  std::vector<RindClass> rinds;
  int from_age = 0;             // days since made, both ends in it
  std::optional<int> to_age{};  // none: for ever
  // In the words file "fault.WORDS" and: ".known" what it usually is; ".caution"; ".now.1" to ".now.3" the orders, each
  // perhaps with ".more"; ".then.N" beside the cares of the N-th day of `then`.
  std::string_view words;
  std::vector<FaultCare> then{};  // by day
  int look_again_days = 1;
  bool apart = false;       // from now on last of the round, with gloves and tools of its own
  bool hold = false;        // a hold is proposed: not to be sold or eaten until somebody decides
  bool mask = false;        // FFP2 while it is handled
  bool sisters = false;     // look at the wheels of the same lot, wherever they lie
  bool neighbours = false;  // look at what lies on the same shelf and on those next to it
  std::string_view source;
};

inline constexpr int kFaultOrders = 3;

const std::vector<FaultAdvice>& FaultCatalogue();
// The catalogue answers for every fault, rind and age.
const FaultAdvice& AdviceFor(FaultKind fault, RindClass rind, int age_days);

// An agreed care on its date, as the journal keeps it.
struct FaultPlanCare {
  Date day;
  CareKind kind;
  std::optional<CareKind> stands_for;
};

// What a keeper who agrees writes into the book.
struct FaultPlan {
  const FaultAdvice* advice = nullptr;  // into the catalogue
  std::vector<FaultPlanCare> cares;     // of the wheels with the fault
  Date look_again;                      // at these wheels and at those that `advice` names beside them
};

// `today` is the keeper's day of the finding; ages are days since made, negative ones count as 0.
FaultPlan PlanFor(FaultKind fault, RindClass rind, int age_days, Date today);

}  // namespace rindwatch::rules
