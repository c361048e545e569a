// The cares of one stage of a wheel, each with what its count comes to.
#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "rules/care/counts.hpp"

namespace rindwatch::rules {

// A care with its verdict, before lines are brought together.
struct Item {
  const Care* care = nullptr;  // null: agreed at a fault
  KindSet kinds;
  const std::vector<CareKind>* brings = nullptr;  // of a care; null: nothing
  Verdict verdict;
  bool agreed = false;
  std::optional<CareKind> stands_for;

  bool Brings(CareKind kind) const;
};

// Counts the cares of one stage on. Made anew when the ground is recounted, and for a day on which its stage does not
// last yet.
class StageCount {
 public:
  StageCount(const Ground& ground, std::size_t index);
  // In the plan's order; kinds that only come together have a verdict without a pending care. Moments ascend.
  std::vector<Item> At(const Moment& moment);

 private:
  struct OnlyBrought {};
  struct InOnceCount {};
  struct Row {
    const Care* care = nullptr;
    KindSet kinds;
    bool named = true;  // false: the plan names the kind only where another care brings it
    std::variant<OnlyBrought, InOnceCount, DayCount, HourCount> count;
    std::size_t next = 0;  // the first deed that was not taken yet
  };
  void AddRow(std::size_t index, const Care& care);
  void AddBroughtAlone();
  Verdict VerdictOf(Row& row, std::size_t place, const Moment& moment);
  template <typename Count>
  void TakeDeeds(Count& count, KindSet kinds, std::size_t& next, Instant until) const;

  const Ground& ground_;
  std::vector<Row> rows_;
  std::optional<OnceCount> once_;
  KindSet once_kinds_;
  std::size_t next_once_ = 0;
};

// The cares of a segment at a moment.
std::vector<Item> ItemsOf(const Ground& ground, std::size_t index, const Moment& moment);
// The kinds that are asked for, today or later.
KindSet WaitingKinds(const std::vector<Item>& items);
// What keepers agreed at a fault.
std::vector<Item> AgreedItems(const Ground& ground, const std::vector<Item>& stage);

}  // namespace rindwatch::rules
