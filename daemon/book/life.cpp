#include "daemon/book/life.hpp"

#include <algorithm>

namespace rindwatch {
namespace {

using rules::WheelHistory;

bool SaysNothingNew(const WheelHistory& history, const LifeEntry& entry) {
  if (const auto* gone = std::get_if<Gone>(&entry)) return gone->at == history.gone;
  const auto* undo = std::get_if<rules::UndoAct>(&entry);
  return undo != nullptr && std::ranges::find(history.undos, undo->id, &rules::UndoAct::id) != history.undos.end();
}

struct Writer {
  WheelHistory& history;

  void operator()(const Entered& entered) const { history.entered = entered.at; }
  void operator()(const Gone& gone) const { history.gone = gone.at; }
  void operator()(const rules::PlanFrom& plan) const { history.plans.push_back(plan); }
  void operator()(const rules::StartEvent& start) const { history.starts.push_back(start); }
  void operator()(const rules::BranchAnswer& answer) const { history.branches.push_back(answer); }
  void operator()(const rules::CareAct& act) const { history.acts.push_back(act); }
  void operator()(const rules::UndoAct& undo) const { history.undos.push_back(undo); }
  void operator()(const rules::AgreedCare& agreed) const { history.agreed.push_back(agreed); }
};

}  // namespace

void Lives::Open(const std::string& line) {
  if (line == line_) return;
  line_ = line;
  turns_.clear();
}

void Lives::Write(std::shared_ptr<WheelLife>& life, const LifeEntry& entry) {
  if (life && SaysNothingNew(life->history, entry)) return;
  if (life && life.use_count() == 1) {  // nobody else lives it
    std::visit(Writer{life->history}, entry);
    life->stamp = ++last_stamp_;
    return;
  }
  std::vector<Turn>& turns = turns_[life];
  const auto same = std::ranges::find(turns, entry, &Turn::entry);
  if (same != turns.end()) {
    life = same->after;
    return;
  }
  auto after = life ? std::make_shared<WheelLife>(*life) : std::make_shared<WheelLife>();
  std::visit(Writer{after->history}, entry);
  after->stamp = ++last_stamp_;
  turns.push_back({entry, after});
  life = std::move(after);
}

}  // namespace rindwatch
