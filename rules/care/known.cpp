#include "rules/care/known.hpp"

#include <algorithm>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

namespace rindwatch::rules {
namespace {

using Ids = std::unordered_set<ActId>;

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
  void Hold(ActId id) {
    // Along the chain of what the undo names: it holds, the next does not, and what that one names loses one accuser.
    while (true) {
      const ActId undone = target_.at(id);
      if (!target_.contains(undone) || !undone_undos_.insert(undone).second) return;
      const ActId freed = target_.at(undone);
      if (!target_.contains(freed) || undone_undos_.contains(freed) || --named_by_.at(freed) > 0) return;
      id = freed;
    }
  }

  std::unordered_map<ActId, ActId> target_;
  std::unordered_map<ActId, int> named_by_;
  Ids undone_undos_;
};

// Looks at a history as it is known at an instant.
class Reader {
 public:
  Reader(const WheelHistory& wheel, Instant asked) : wheel_(wheel), asked_(asked) {
    if (!wheel.undos.empty()) undone_ = Undos(wheel.undos, asked).Undone();
    for (const UndoAct& undo : wheel.undos) Sees(undo.at);
    if (wheel.gone) Sees(*wheel.gone);
  }

  Known Standing() {
    Known known = WithoutActs();
    if (ActsDecide(known)) known.acts = Acts();
    known.news = news_;
    return known;
  }

  Known All() {
    Known known = WithoutActs();
    known.acts = Acts();
    known.agreed = Pick(wheel_.agreed, [](const AgreedCare& agreed) { return agreed.at; });
    Order(known.agreed);
    known.news = news_;
    return known;
  }

 private:
  Known WithoutActs() {
    Known known;
    known.plans = Plans();
    known.starts = Starts();
    known.answers = Pick(wheel_.branches, [](const BranchAnswer& answer) { return answer.at; });
    Order(known.answers);
    return known;
  }

  // Some plan has a part that begins with a doing: then the acts too decide where the wheel stands.
  static bool ActsDecide(const Known& known) {
    return std::ranges::any_of(known.plans, [](const PlanFrom* given) {
      return std::ranges::any_of(given->plan->parts, [](const Part& part) { return BegunBy(part).has_value(); });
    });
  }

  std::vector<const CareAct*> Acts() {
    auto acts = Pick(wheel_.acts, [](const CareAct& act) { return std::max(act.at, act.known_from); });
    Order(acts);
    return acts;
  }

  bool Sees(Instant at) {
    if (at <= asked_) return true;
    news_ = std::min(news_, at);
    return false;
  }
  bool IsUndone(const ActId& id) const { return !undone_.empty() && undone_.contains(id); }

  // `when`: from which instant a line is known.
  template <typename T, typename When>
  std::vector<const T*> Pick(const std::vector<T>& lines, When when) {
    std::vector<const T*> picked;
    picked.reserve(lines.size());
    for (const T& line : lines) {
      if (Sees(when(line)) && !IsUndone(line.id)) picked.push_back(&line);
    }
    return picked;
  }

  // A journal is kept in order, so there is mostly nothing to sort. A line that was sent twice stands beside itself.
  template <typename T>
  static void Order(std::vector<const T*>& lines) {
    const auto before = [](const T* a, const T* b) { return std::tie(a->at, a->id) < std::tie(b->at, b->id); };
    if (!std::ranges::is_sorted(lines, before)) std::ranges::sort(lines, before);
    const auto repeats = std::ranges::unique(lines, {}, [](const T* line) -> const ActId& { return line->id; });
    lines.erase(repeats.begin(), repeats.end());
  }

  // The first plan is known always: it reaches back to its start event.
  std::vector<const PlanFrom*> Plans() {
    std::vector<const PlanFrom*> plans;
    for (const PlanFrom& given : wheel_.plans) {
      if (given.plan && !IsUndone(given.id)) plans.push_back(&given);
    }
    std::ranges::sort(plans, {}, [](const PlanFrom* given) { return std::tie(given->from, given->id); });
    while (plans.size() > 1 && !Sees(plans.back()->from)) plans.pop_back();
    return plans;
  }

  decltype(Known::starts) Starts() {
    Known known;
    for (const StartEvent& event : wheel_.starts) {
      if (!Sees(event.known_from) || IsUndone(event.id)) continue;
      const StartEvent*& first = known.StartOf(event.kind);
      if (first == nullptr || std::tie(event.known_from, event.id) < std::tie(first->known_from, first->id))
        first = &event;
    }
    return known.starts;
  }

  const WheelHistory& wheel_;
  Instant asked_;
  Ids undone_;
  Instant news_ = Instant::max();
};

}  // namespace

Known StandingKnownAt(const WheelHistory& wheel, Instant asked) { return Reader(wheel, asked).Standing(); }

Known KnownAt(const WheelHistory& wheel, Instant asked) { return Reader(wheel, asked).All(); }

}  // namespace rindwatch::rules
