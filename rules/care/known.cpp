#include "rules/care/known.hpp"

#include <algorithm>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

namespace rindwatch::rules {
namespace {

using Ids = std::unordered_set<std::string_view>;

// An undo holds unless an undo that holds names it. Decided from the undos that nobody names inwards; undos that name
// each other in a circle, which no phone can make, all hold.
class Undos {
 public:
  Undos(const std::vector<UndoAct>& undos, Instant asked) {
    for (const UndoAct& undo : undos) {
      if (undo.at <= asked) target_.emplace(undo.id, undo.of);
    }
    for (const auto& [id, of] : target_) ++named_by_[of];
    for (const auto& [id, of] : target_) {
      if (!named_by_.contains(id)) Hold(id);
    }
  }

  Ids Undone() const {
    Ids undone;
    for (const auto& [id, of] : target_) {
      if (!undone_undos_.contains(id)) undone.insert(of);
    }
    return undone;
  }

 private:
  void Hold(std::string_view id) {
    // Along the chain of what the undo names: it holds, the next does not, and what that one names loses one accuser.
    while (true) {
      const std::string_view undone = target_.at(id);
      if (!target_.contains(undone) || !undone_undos_.insert(undone).second) return;
      const std::string_view freed = target_.at(undone);
      if (!target_.contains(freed) || undone_undos_.contains(freed) || --named_by_.at(freed) > 0) return;
      id = freed;
    }
  }

  std::unordered_map<std::string_view, std::string_view> target_;
  std::unordered_map<std::string_view, int> named_by_;
  Ids undone_undos_;
};

// A journal is kept in order, so there is mostly nothing to sort.
template <typename T, typename Order>
void Sort(std::vector<const T*>& lines, Order order) {
  const auto before = [&](const T* a, const T* b) { return order(*a) < order(*b); };
  if (!std::ranges::is_sorted(lines, before)) std::ranges::sort(lines, before);
}

template <typename T>
void KeepOneOfEachId(std::vector<const T*>& lines) {
  Ids seen;
  seen.reserve(lines.size());
  std::erase_if(lines, [&](const T* line) { return !seen.insert(line->id).second; });
}

template <typename T, typename Wanted>
std::vector<const T*> Pick(const std::vector<T>& lines, const Ids& undone, Wanted wanted) {
  std::vector<const T*> picked;
  picked.reserve(lines.size());
  for (const T& line : lines) {
    if (wanted(line) && !undone.contains(line.id)) picked.push_back(&line);
  }
  return picked;
}

// The first plan is known always: it reaches back to its start event.
std::vector<const PlanFrom*> PlansKnown(const WheelHistory& wheel, const Ids& undone, Instant asked) {
  auto plans = Pick(wheel.plans, undone, [](const PlanFrom& given) { return given.plan != nullptr; });
  Sort(plans, [](const PlanFrom& given) { return std::tie(given.from, given.id); });
  while (plans.size() > 1 && plans.back()->from > asked) plans.pop_back();
  return plans;
}

std::map<StartKind, const StartEvent*> StartsKnown(const WheelHistory& wheel, const Ids& undone, Instant asked) {
  auto events = Pick(wheel.starts, undone, [&](const StartEvent& event) { return event.known_from <= asked; });
  Sort(events, [](const StartEvent& event) { return std::tie(event.known_from, event.id); });
  std::map<StartKind, const StartEvent*> starts;
  for (const StartEvent* event : events) starts.emplace(event->kind, event);
  return starts;
}

constexpr auto kByInstant = [](const auto& line) { return std::tie(line.at, line.id); };

Known WithoutActs(const WheelHistory& wheel, const Ids& undone, Instant asked) {
  Known known;
  known.plans = PlansKnown(wheel, undone, asked);
  known.starts = StartsKnown(wheel, undone, asked);
  known.answers = Pick(wheel.branches, undone, [&](const BranchAnswer& answer) { return answer.at <= asked; });
  Sort(known.answers, kByInstant);
  return known;
}

// Some plan has a part that begins with a doing: then the acts too decide where the wheel stands.
bool ActsDecide(const Known& known) {
  return std::ranges::any_of(known.plans, [](const PlanFrom* given) {
    return std::ranges::any_of(given->plan->parts, [](const Part& part) { return BegunBy(part).has_value(); });
  });
}

void AddActs(const WheelHistory& wheel, const Ids& undone, Instant asked, Known& known) {
  known.acts = Pick(wheel.acts, undone, [&](const CareAct& act) { return act.at <= asked && act.known_from <= asked; });
  Sort(known.acts, kByInstant);
  KeepOneOfEachId(known.acts);
}

}  // namespace

Known StandingKnownAt(const WheelHistory& wheel, Instant asked) {
  const Ids undone = Undos(wheel.undos, asked).Undone();
  Known known = WithoutActs(wheel, undone, asked);
  if (ActsDecide(known)) AddActs(wheel, undone, asked, known);
  return known;
}

Known KnownAt(const WheelHistory& wheel, Instant asked) {
  const Ids undone = Undos(wheel.undos, asked).Undone();
  Known known = WithoutActs(wheel, undone, asked);
  AddActs(wheel, undone, asked, known);
  known.agreed = Pick(wheel.agreed, undone, [&](const AgreedCare& agreed) { return agreed.at <= asked; });
  Sort(known.agreed, kByInstant);
  KeepOneOfEachId(known.agreed);
  return known;
}

}  // namespace rindwatch::rules
