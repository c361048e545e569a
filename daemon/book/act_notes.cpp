#include "daemon/book/act_notes.hpp"

#include <algorithm>

namespace rindwatch {

using rules::ActId;
using rules::WheelId;

void ActNotes::Names(const ActId& act, WheelId wheel) {
  if (open_ != act) {
    const auto* known = WheelsOf(act);
    NamesAll(act, known ? *known : std::vector<WheelId>{});
  }
  const bool is_new = wheel > highest_ || std::ranges::find(open_wheels_, wheel) == open_wheels_.end();
  if (is_new) open_wheels_.push_back(wheel);
  highest_ = std::max(highest_, wheel);
}

void ActNotes::NamesAll(const ActId& act, std::vector<WheelId> wheels) {
  if (open_) notes_[*open_].wheels = &*lists_.insert(std::move(open_wheels_)).first;
  open_ = act;
  open_wheels_ = std::move(wheels);
  highest_ = open_wheels_.empty() ? 0 : std::ranges::max(open_wheels_);
}

void ActNotes::SignedBy(const ActId& act, const std::string& keeper) {
  notes_[act].keeper = &*keepers_.insert(keeper).first;
}

const std::vector<WheelId>* ActNotes::WheelsOf(const ActId& act) const {
  if (open_ == act) return &open_wheels_;
  const auto found = notes_.find(act);
  return found == notes_.end() ? nullptr : found->second.wheels;
}

const std::string* ActNotes::KeeperOf(const ActId& act) const {
  const auto found = notes_.find(act);
  return found == notes_.end() ? nullptr : found->second.keeper;
}

}  // namespace rindwatch
