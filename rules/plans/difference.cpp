#include "rules/plans/difference.hpp"

#include <algorithm>
#include <utility>

namespace rindwatch::rules {
namespace {

using F = PlanChange::Field;

// A figure without its source: a source alone is no change.
PlanValue ValueOf(std::optional<Figure> figure) {
  if (!figure) return {};
  figure->source.clear();
  return *figure;
}
PlanValue ValueOf(std::optional<Wash> wash) {
  if (!wash) return {};
  wash->salt.source.clear();
  for (WashAddition& addition : wash->additions) addition.source.clear();
  return *wash;
}
PlanValue ValueOf(const std::optional<int>& number) { return number ? PlanValue{*number} : PlanValue{}; }
PlanValue ValueOf(const Stage& stage) { return StageDays{stage.first_day, stage.last_day}; }

// Which of `after` stands for which of `before`; null on one side: it went, or it came. In the order of `after`, what
// went where it stood.
template <typename T>
using Pairs = std::vector<std::pair<const T*, const T*>>;

// `alike` are tried in turn, each on what the one before it left.
template <typename T, typename... Alike>
Pairs<T> Match(const std::vector<T>& before, const std::vector<T>& after, Alike... alike) {
  std::vector<const T*> partner(before.size());
  const auto taken = [&](const T& one) { return std::ranges::find(partner, &one) != partner.end(); };
  const auto pair_up = [&](auto same) {
    for (std::size_t i = 0; i < before.size(); ++i) {
      if (partner[i]) continue;
      const auto found = std::ranges::find_if(after, [&](const T& one) { return !taken(one) && same(before[i], one); });
      if (found != after.end()) partner[i] = &*found;
    }
  };
  (pair_up(alike), ...);
  Pairs<T> pairs;
  for (const T& one : after) {
    const auto found = std::ranges::find(partner, &one);
    const T* old = found == partner.end() ? nullptr : &before[static_cast<std::size_t>(found - partner.begin())];
    pairs.emplace_back(old, &one);
  }
  for (std::size_t i = 0; i < before.size(); ++i) {
    if (partner[i]) continue;
    const auto place = std::min(i, pairs.size());
    pairs.emplace(pairs.begin() + static_cast<std::ptrdiff_t>(place), &before[i], nullptr);
  }
  return pairs;
}

// Lives while two plans are compared; walks them side by side.
class Comparison {
 public:
  std::vector<PlanChange> Run(const Plan& before, const Plan& after) {
    Note(F::kFamily, before.family, after.family);
    Note(F::kRindWords, before.rind_words, after.rind_words);
    Note(F::kRind, std::string{ToText(before.rind)}, std::string{ToText(after.rind)});
    Note(F::kHardiness, before.hardiness, after.hardiness);
    Note(F::kReadyDays, ValueOf(before.ready_days), ValueOf(after.ready_days));
    Note(F::kReadyFrom, before.ready_from, after.ready_from);
    Note(F::kCautions, before.cautions, after.cautions);
    const auto same_start = [](const Part& a, const Part& b) { return a.start == b.start; };
    for (const auto& [old, now] : Match(before.parts, after.parts, same_start)) {
      at_.part = static_cast<std::size_t>(now ? now - after.parts.data() : old - before.parts.data());
      if (old && now) {
        Compare(*old, *now);
      } else {
        Note(F::kPart, old ? PlanValue{old->start} : PlanValue{}, now ? PlanValue{now->start} : PlanValue{});
      }
    }
    return std::move(changes_);
  }

 private:
  void Note(F field, PlanValue was, PlanValue is) {
    if (was == is) return;
    PlanChange change = at_;
    change.field = field;
    change.was = std::move(was);
    change.is = std::move(is);
    changes_.push_back(std::move(change));
  }

  void Compare(const Part& old, const Part& now) {
    Note(F::kQuestion, old.question, now.question);
    Note(F::kAskedFrom, ValueOf(old.asked_from), ValueOf(now.asked_from));
    Note(F::kUsualDays, ValueOf(old.usual_days), ValueOf(now.usual_days));
    Compare(old.stages, now.stages);
    if (old.branch && now.branch) {
      Compare(*old.branch, *now.branch);
    } else {
      Note(F::kBranch, old.branch ? PlanValue{old.branch->question} : PlanValue{},
           now.branch ? PlanValue{now.branch->question} : PlanValue{});
    }
  }

  void Compare(const Branch& old, const Branch& now) {
    Note(F::kBranchQuestion, old.question, now.question);
    Note(F::kBranchAskedFrom, old.asked_from, now.asked_from);
    Note(F::kDefaultOption, old.default_option, now.default_option);
    const auto same_name = [](const BranchOption& a, const BranchOption& b) { return a.name == b.name; };
    for (const auto& [before, after] : Match(old.options, now.options, same_name)) {
      at_.option = (after ? after : before)->name;
      if (before && after) {
        Note(F::kReadyDays, ValueOf(before->ready_days), ValueOf(after->ready_days));
        Compare(before->stages, after->stages);
      } else {
        Note(F::kOption, before ? PlanValue{before->name} : PlanValue{}, after ? PlanValue{after->name} : PlanValue{});
      }
    }
    at_.option.clear();
  }

  void Compare(const std::vector<Stage>& old, const std::vector<Stage>& now) {
    const auto same_name = [](const Stage& a, const Stage& b) { return a.name == b.name; };
    const auto same_first = [](const Stage& a, const Stage& b) { return a.first_day == b.first_day; };
    for (const auto& [before, after] : Match(old, now, same_name, same_first)) {
      at_.stage = (after ? after : before)->name;
      if (before && after) {
        Compare(*before, *after);
      } else {
        Note(F::kStage, before ? ValueOf(*before) : PlanValue{}, after ? ValueOf(*after) : PlanValue{});
      }
    }
    at_.stage.clear();
  }

  void Compare(const Stage& old, const Stage& now) {
    Note(F::kStageName, old.name, now.name);
    Note(F::kStageDays, ValueOf(old), ValueOf(now));
    Note(F::kState, old.state, now.state);
    Note(F::kCounts, old.counts, now.counts);
    Note(F::kTemperatureTarget, ValueOf(old.temperature_target), ValueOf(now.temperature_target));
    Note(F::kTemperatureBand, ValueOf(old.temperature_band), ValueOf(now.temperature_band));
    Note(F::kHumidityTarget, ValueOf(old.humidity_target), ValueOf(now.humidity_target));
    Note(F::kHumidityBand, ValueOf(old.humidity_band), ValueOf(now.humidity_band));
    const auto same_kinds = [](const Care& a, const Care& b) { return a.kinds == b.kinds; };
    for (const auto& [before, after] : Match(old.cares, now.cares, same_kinds)) {
      const Care& named = *(after ? after : before);
      at_.kinds = named.kinds;
      at_.kinds.insert(at_.kinds.end(), named.brings.begin(), named.brings.end());
      if (before && after) {
        Compare(*before, *after);
      } else {
        Note(F::kCare, before ? PlanValue{before->cadence} : PlanValue{},
             after ? PlanValue{after->cadence} : PlanValue{});
      }
      at_.kinds.clear();
    }
  }

  void Compare(const Care& old, const Care& now) {
    Note(F::kCadence, old.cadence, now.cadence);
    Note(F::kBrings, old.brings, now.brings);
    Note(F::kTolerance, ValueOf(old.tolerance), ValueOf(now.tolerance));
    Note(F::kNote, old.note, now.note);
    Note(F::kWash, ValueOf(old.wash), ValueOf(now.wash));
    Note(F::kCautions, old.cautions, now.cautions);
  }

  PlanChange at_;  // where the comparison stands
  std::vector<PlanChange> changes_;
};

}  // namespace

std::vector<PlanChange> Differences(const Plan& before, const Plan& after) { return Comparison().Run(before, after); }

}  // namespace rindwatch::rules
