// The lives of wheels. Wheels of a lot are mostly turned and washed together and then have one history: it is held
// once, and what is worked out of it is worked out once.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <unordered_map>
#include <variant>
#include <vector>

#include "rules/care/history.hpp"

namespace rindwatch {

// What all wheels that live it have in common. Two wheels that share a life have the same schedule in caves of the same
// calendar; two that share none may have it too.
struct WheelLife {
  rules::WheelHistory history;
  // Of all lives and all they ever were none has it twice: whatever was worked out of a history is good while the stamp
  // is the same.
  std::uint64_t stamp = 0;
};

struct Entered {
  rules::Instant at;
  bool operator==(const Entered&) const = default;
};
struct Gone {
  std::optional<rules::Instant> at;  // none: it is here
  bool operator==(const Gone&) const = default;
};
// What the journal can say of a life. An undo that the history holds already says nothing new.
using LifeEntry = std::variant<Entered, Gone, rules::PlanFrom, rules::StartEvent, rules::BranchAnswer, rules::CareAct,
                               rules::UndoAct, rules::AgreedCare>;

// Writes lives on. Wheels that share a life and are told the same by one line of the journal share one afterwards; a
// wheel that alone is told something, or is left out, goes its own way from then on. Owned by the book.
class Lives {
 public:
  // What follows belongs to this line.
  void Open(const std::string& line);
  // Null: a wheel of which nothing was known so far.
  void Write(std::shared_ptr<WheelLife>& life, const LifeEntry& entry);

 private:
  struct Turn {
    LifeEntry entry;
    std::shared_ptr<WheelLife> after;
  };

  std::string line_;
  // Where the lives that this line found went on; holds them, so that none of them is written on in place.
  std::unordered_map<std::shared_ptr<WheelLife>, std::vector<Turn>> turns_;
  std::uint64_t last_stamp_ = 0;
};

}  // namespace rindwatch
