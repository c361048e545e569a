#include "rules/care/run.hpp"

#include <algorithm>

#include "rules/care/cadence.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// A once care is the same only if it means the same date.
bool IsSame(const Care& a, Date part_start_a, const Care& b, Date part_start_b) {
  if (a.kinds != b.kinds || a.cadence != b.cadence) return false;
  return !std::holds_alternative<OnceOnDay>(a.cadence) || part_start_a == part_start_b;
}

const Care* FindSame(const Segment& segment, const Care& care, Date part_start) {
  const auto& cares = segment.stage->cares;
  const auto found = std::ranges::find_if(
      cares, [&](const Care& other) { return IsSame(care, part_start, other, segment.part_start); });
  return found == cares.end() ? nullptr : &*found;
}

Date FirstOfActs(const Timeline& timeline, const Segment& segment) {
  Date day = segment.first;
  while (timeline.IsDayZero(day - days{1}) && timeline.StageOfActs(day - days{1}) == &segment) day -= days{1};
  return day;
}

}  // namespace

CareKind Run::KindAfter(CareKind done) const {
  const auto next = std::next(std::ranges::find(care->kinds, done));
  return next == care->kinds.end() ? care->kinds.front() : *next;
}

int Run::ToleranceOn(Date day) const {
  const Care* in_force = stages.front().second;
  for (const auto& [from, stage_care] : stages) {
    if (from <= day) in_force = stage_care;
  }
  return ToleranceOf(*in_force);
}

Run RunOf(const Ground& ground, std::size_t index, const Care& care) {
  const std::vector<Segment>& segments = ground.timeline.Segments();
  const Date part_start = segments[index].part_start;
  Run run;
  run.care = &care;
  run.kinds = KindSet{care.kinds};
  run.stages.emplace_back(segments[index].first, &care);
  std::size_t first = index;
  while (first > 0 && segments[first].adjoins) {
    const Care* before = FindSame(segments[first - 1], care, part_start);
    if (!before) break;
    --first;
    run.stages.emplace_back(segments[first].first, before);
  }
  std::ranges::reverse(run.stages);
  std::size_t last = index;
  while (last + 1 < segments.size() && segments[last + 1].adjoins) {
    const Care* after = FindSame(segments[last + 1], care, part_start);
    if (!after) break;
    ++last;
    run.stages.emplace_back(segments[last].first, after);
  }
  run.first = segments[first].first;
  run.last = segments[last].last;
  run.acts_from = FirstOfActs(ground.timeline, segments[first]);
  return run;
}

}  // namespace rindwatch::rules
