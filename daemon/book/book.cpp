#include "daemon/book/book.hpp"

#include <algorithm>

#include "daemon/book/newest.hpp"
#include "daemon/book/parts.hpp"

namespace rindwatch {

using rules::ActId;
using rules::CaveId;
using rules::WheelId;

namespace {

// Undos of undos of undos: deeper than any keeper goes; two lines that name each other must not go on for ever.
constexpr int kUndoDepth = 16;

std::string ShortFamilyOf(const rules::Plan& plan) { return plan.family.substr(0, plan.family.find(',')); }

}  // namespace

std::string_view ToText(CaveKind kind) {
  switch (kind) {
    case CaveKind::kCounter:
      return "counter";
    case CaveKind::kBox:
      return "box";
    case CaveKind::kFridge:
      return "fridge";
    case CaveKind::kRoom:
      return "room";
  }
  return "room";
}

std::optional<CaveKind> CaveKindFrom(std::string_view text) {
  for (const CaveKind kind : {CaveKind::kCounter, CaveKind::kBox, CaveKind::kFridge, CaveKind::kRoom}) {
    if (ToText(kind) == text) return kind;
  }
  return std::nullopt;
}

Book::Book(rules::DayTurn home) : home_(std::move(home)) {
  for (const rules::Plan& plan : rules::PlanLibrary()) {
    plans_[{plan.id, plan.version}] = std::make_shared<const rules::Plan>(plan);
  }
}

bool Book::IsUndone(const ActId& id, std::optional<WheelId> wheel) const {
  if (undos_.empty()) return false;
  return IsUndone(ActOf(id), wheel, kUndoDepth);
}

bool Book::IsUndone(const ActId& id, std::optional<WheelId> wheel, int depth) const {
  const auto found = undos_.find(id);
  if (found == undos_.end() || depth == 0) return false;
  return std::ranges::any_of(found->second, [&](const Undo& undo) {
    // An undo for some wheels leaves the act itself standing.
    if (undo.wheels && (!wheel || std::ranges::find(*undo.wheels, *wheel) == undo.wheels->end())) return false;
    return !IsUndone(undo.id, wheel, depth - 1);
  });
}

std::vector<WheelId> Book::WheelsOf(const ActId& id) const {
  ActId act = id;
  for (int depth = 0; depth < kUndoDepth; ++depth) {
    if (const auto* wheels = notes_.WheelsOf(act)) return *wheels;
    const auto undo = undo_of_.find(act);
    if (undo == undo_of_.end()) break;
    act = undo->second;
  }
  return {};
}

ActId Book::RootOf(ActId act) const {
  for (int depth = 0; depth < kUndoDepth; ++depth) {
    const auto undo = undo_of_.find(act);
    if (undo == undo_of_.end()) break;
    act = undo->second;
  }
  return act;
}

void Book::ForEachWheel(const std::function<void(const WheelRow&)>& visit) const {
  for (const auto& [id, wheel] : wheels_) {
    if (!IsUndone(wheel.act, id) && !IsGone(wheel)) visit(wheel);
  }
}

std::vector<const WheelRow*> Book::Wheels() const {
  std::vector<const WheelRow*> present;
  ForEachWheel([&](const WheelRow& wheel) { present.push_back(&wheel); });
  return present;
}

std::size_t Book::GoneCount() const {
  return static_cast<std::size_t>(std::ranges::count_if(
      wheels_, [this](const auto& entry) { return !IsUndone(entry.second.act, entry.first) && IsGone(entry.second); }));
}

std::vector<const WheelRow*> Book::GoneWheels() const {
  std::vector<const WheelRow*> gone;
  for (const auto& [id, wheel] : wheels_) {
    if (!IsUndone(wheel.act, id) && IsGone(wheel)) gone.push_back(&wheel);
  }
  std::ranges::stable_sort(gone, std::greater{}, [this](const WheelRow* wheel) { return GoneBy(*wheel)->from; });
  return gone;
}

std::vector<const ProbeRow*> Book::Probes() const {
  std::vector<const ProbeRow*> present;
  for (const auto& [id, probe] : probes_) {
    if (!IsUndone(probe.act)) present.push_back(&probe);
  }
  return present;
}

const CaveRow* Book::Cave(CaveId id) const {
  const auto found = caves_.find(id);
  return found != caves_.end() && IsThere(found->second) ? &found->second : nullptr;
}

bool Book::IsThere(const CaveRow& cave) const {
  if (!IsUndone(cave.act)) return true;
  const auto lies_here = [&](const WheelRow* wheel) { return PlaceOf(*wheel).cave == cave.id; };
  const auto hangs_here = [&](const ProbeRow* probe) { return HangsIn(*probe) == cave.id; };
  const auto stands_here = [&](const auto& entry) { return entry.second.inside == cave.id && IsThere(entry.second); };
  return std::ranges::any_of(Wheels(), lies_here) || std::ranges::any_of(Probes(), hangs_here) ||
         std::ranges::any_of(caves_, stands_here);
}

const WheelRow* Book::Wheel(WheelId id) const {
  const auto found = wheels_.find(id);
  return found == wheels_.end() || IsUndone(found->second.act, id) ? nullptr : &found->second;
}

const ProbeRow* Book::Probe(rules::ProbeId id) const {
  const auto found = probes_.find(id);
  return found == probes_.end() || IsUndone(found->second.act) ? nullptr : &found->second;
}

const ProbeRow* Book::ProbeOfTopic(const std::string& filter) const {
  for (const ProbeRow* probe : Probes()) {
    if (probe->route.filter == filter) return probe;
  }
  return nullptr;
}

Place Book::PlaceOf(const WheelRow& wheel) const {
  const auto* place = NewestOf(*this, wheel.places, wheel.id);
  return place ? place->value : Place{};
}

const Since<Leaving>* Book::GoneBy(const WheelRow& wheel) const { return NewestOf(*this, wheel.gone, wheel.id); }

std::optional<CaveId> Book::HangsIn(const ProbeRow& probe) const {
  const auto* hang = NewestOf(*this, probe.hangs, std::nullopt);
  return hang ? hang->value : std::nullopt;
}

// By the family under which it entered: the name on the rind's label does not change with a plan.
std::string Book::WheelName(const WheelRow& wheel) const {
  const auto& plans = wheel.History().plans;
  const std::string family = plans.empty() ? "Wheel" : ShortFamilyOf(*plans.front().plan);
  return family + " " + std::to_string(wheel.number);
}

std::string Book::FamilyOf(const WheelRow& wheel) const {
  const rules::PlanFrom* newest = nullptr;
  for (const rules::PlanFrom& plan : wheel.History().plans) {
    if (!IsUndone(plan.id, wheel.id) && (!newest || newest->from <= plan.from)) newest = &plan;
  }
  return newest ? ShortFamilyOf(*newest->plan) : std::string{};
}

bool Book::ShowsLot(LotId lot) const {
  const auto size = lot_sizes_.find(lot);
  return size != lot_sizes_.end() && (size->second > 1 || lots_.at(lot).split_off);
}

int Book::NextNumberOf(const rules::Plan& plan) const {
  int highest = 0;
  const std::string family = ShortFamilyOf(plan);
  for (const auto& [id, wheel] : wheels_) {
    const auto& plans = wheel.History().plans;
    if (!plans.empty() && ShortFamilyOf(*plans.front().plan) == family) highest = std::max(highest, wheel.number);
  }
  return highest + 1;
}

const Since<ProbeService>* Book::OutOfService(const ProbeRow& probe) const {
  const auto* newest = NewestOf(*this, probe.service, std::nullopt);
  return newest && newest->value.out ? newest : nullptr;
}

const std::string* Book::CalledAs(const std::string& alarm) const {
  const auto found = called_.find(alarm);
  const auto* newest = found == called_.end() ? nullptr : NewestOf(*this, found->second, std::nullopt);
  return newest ? &newest->value.what : nullptr;
}

const std::string* Book::RemarkOn(const std::string& alarm) const {
  const auto found = called_.find(alarm);
  const auto* newest = found == called_.end() ? nullptr : NewestOf(*this, found->second, std::nullopt);
  return newest && !newest->value.remark.empty() ? &newest->value.remark : nullptr;
}

const Book::Taking* Book::TakenBy(const std::string& alarm) const {
  const auto found = takings_.find(alarm);
  return found == takings_.end() ? nullptr : &found->second;
}

const std::string* Book::KeeperOf(const ActId& id) const { return notes_.KeeperOf(id); }

}  // namespace rindwatch
