// What the book keeps of every act beside its facts: which wheels it named, and who signed it.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/care/act_id.hpp"

namespace rindwatch {

// Small, since ten years of them are held: most acts name the wheels of one lot or shelf, and few keepers sign, so that
// lists and names are held once. Owned by the book.
class ActNotes {
 public:
  // One wheel more. An act's wheels are mostly named one after the other.
  void Names(const rules::ActId& act, rules::WheelId wheel);
  void NamesAll(const rules::ActId& act, std::vector<rules::WheelId> wheels);
  void SignedBy(const rules::ActId& act, const std::string& keeper);

  // Null: an act that named none, or an unknown one. Good until the next act.
  const std::vector<rules::WheelId>* WheelsOf(const rules::ActId& act) const;
  const std::string* KeeperOf(const rules::ActId& act) const;

 private:
  struct Note {
    const std::vector<rules::WheelId>* wheels = nullptr;
    const std::string* keeper = nullptr;
  };

  std::set<std::vector<rules::WheelId>> lists_;
  std::set<std::string> keepers_;
  std::unordered_map<rules::ActId, Note> notes_;
  // The act that is being written down.
  std::optional<rules::ActId> open_;
  std::vector<rules::WheelId> open_wheels_;
  rules::WheelId highest_ = 0;  // of them
};

}  // namespace rindwatch
