#include "rules/care/timeline.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

using std::chrono::days;
constexpr days kOneDay{1};

const BranchOption* OptionNamed(const Branch& branch, std::string_view name) {
  const auto found = std::ranges::find(branch.options, name, &BranchOption::name);
  return found == branch.options.end() ? nullptr : &*found;
}

// The first doing of a care on or after a day.
const CareAct* FirstDoing(const Known& known, CareKind kind, Date since, const DayTurn& turn) {
  const auto found = std::ranges::find_if(
      known.acts, [&](const CareAct* act) { return act->done.Has(kind) && turn.DayOf(act->at) >= since; });
  return found == known.acts.end() ? nullptr : *found;
}

// The last thing of an ascending list that begins on or before the day.
template <typename T>
const T* LastFrom(const std::vector<T>& list, Date day) {
  const auto after = std::ranges::upper_bound(list, day, {}, &T::first);
  return after == list.begin() ? nullptr : &*std::prev(after);
}

}  // namespace

Timeline::Timeline(const Known& known, const DayTurn& turn) {
  for (const PlanFrom* given : known.plans) {
    plans_.push_back({plans_.empty() ? kLongAgo : turn.DayOf(given->from), given});
  }
  for (std::size_t i = 0; i < plans_.size(); ++i) {
    const Date last = i + 1 < plans_.size() ? plans_[i + 1].first - kOneDay : kForEver;
    if (plans_[i].first <= last) AddPlan(known, *plans_[i].given, plans_[i].first, last, turn);
  }
  segments_.reserve(4 * spans_.size());
  for (const Span& span : spans_) AddSegments(span);
}

std::vector<const StartEvent*> Timeline::StartsOf(const Known& known, const std::vector<Part>& parts,
                                                  const DayTurn& turn) {
  std::vector<const StartEvent*> starts;
  starts.reserve(parts.size());
  for (const Part& part : parts) {
    const StartEvent* start = known.StartOf(part.start);
    const StartEvent* before = starts.empty() ? nullptr : starts.back();
    const auto kind = BegunBy(part);
    const CareAct* act = !start && before && kind ? FirstDoing(known, *kind, before->day, turn) : nullptr;
    if (act) {
      begun_.push_back(std::make_unique<const StartEvent>(
          StartEvent{act->id, part.start, turn.DayOf(act->at), act->known_from, false}));
      start = begun_.back().get();
    }
    starts.push_back(start);
  }
  return starts;
}

// A part is in force from its event until a later part's; it never advances by itself.
void Timeline::AddPlan(const Known& known, const PlanFrom& given, Date first, Date last, const DayTurn& turn) {
  const std::vector<Part>& parts = given.plan->parts;
  starts_ = StartsOf(known, parts, turn);
  std::vector<Span> found;
  for (std::size_t part = parts.size(); part-- > 0;) {
    const StartEvent* start = starts_[part];
    if (!start) continue;
    const Date begin = std::max(first, start->day);
    if (begin <= last) found.push_back({begin, last, &given, part, start, nullptr, false});
    last = std::min(last, start->day - kOneDay);
  }
  std::ranges::reverse(found);
  for (const Span& span : found) AddRoads(known, span, turn);
}

// Until it is answered the default goes on; an answer rules from the whole day on which it is given.
void Timeline::AddRoads(const Known& known, Span part, const DayTurn& turn) {
  if (!part.ThePart().branch) {
    spans_.push_back(part);
    return;
  }
  const Branch& branch = *part.ThePart().branch;
  part.option = OptionNamed(branch, branch.default_option);
  for (const BranchAnswer* answer : known.answers) {
    const BranchOption* option = OptionNamed(branch, answer->option);
    const Date day = turn.DayOf(answer->at);
    if (!option || day < part.start->day || day > part.last) continue;
    if (day > part.first) {
      Span before = part;
      before.last = day - kOneDay;
      spans_.push_back(before);
      part.first = day;
    }
    part.option = option;
    part.answered = true;
  }
  spans_.push_back(part);
}

void Timeline::AddSegments(const Span& span) {
  const Road road = span.TheRoad();
  const Date day_zero = span.start->day;
  if (road.Size() > 0 && road.Front().first_day > 0 && span.first == day_zero) days_zero_.push_back(day_zero);
  for (std::size_t i = 0; i < road.Size(); ++i) {
    // The last stage has no end of its own: it goes on until something else begins.
    const Date end = i + 1 < road.Size() ? day_zero + days{road[i + 1].first_day} - kOneDay : kForEver;
    const Date first = std::max(span.first, day_zero + days{road[i].first_day});
    const Date last = std::min(span.last, end);
    if (first > last) continue;
    Segment* before = segments_.empty() ? nullptr : &segments_.back();
    Date reached = before ? before->last + kOneDay : kForEver;
    if (before && before->stage == &road[i] && before->part_start == day_zero && reached == first) {
      before->last = last;  // an answer that changes nothing here
      continue;
    }
    while (reached < first && IsDayZero(reached)) reached += kOneDay;
    segments_.push_back({first, last, &road[i], day_zero, reached == first});
  }
}

const Span* Timeline::SpanOn(Date day) const {
  const Span* span = LastFrom(spans_, day);
  return span && day <= span->last ? span : nullptr;
}

const PlanFrom* Timeline::PlanOn(Date day) const {
  const Rule* rule = LastFrom(plans_, day);
  return rule ? rule->given : nullptr;
}

std::size_t Timeline::IndexAtOrAfter(Date day) const {
  return static_cast<std::size_t>(std::ranges::lower_bound(segments_, day, {}, &Segment::last) - segments_.begin());
}

bool Timeline::IsDayZero(Date day) const { return std::ranges::binary_search(days_zero_, day); }

const Segment* Timeline::StageOfActs(Date day) const {
  const std::size_t index = IndexAtOrAfter(day);
  if (index < segments_.size() && segments_[index].first <= day) return &segments_[index];
  if (!IsDayZero(day)) return nullptr;
  if (index > 0) return &segments_[index - 1];
  return index < segments_.size() ? &segments_[index] : nullptr;
}

}  // namespace rindwatch::rules
