#include "daemon/morning/left.hpp"

#include <algorithm>

namespace rindwatch::morning {

namespace {

bool IsSettled(const Entry& entry) {
  using enum rules::CareState;
  return entry.line && entry.line->state != kDue && entry.line->state != kLate;
}

}  // namespace

List LeftOf(List list) {
  std::vector<Section> left;
  std::vector<rules::Change> on_the_way;
  for (Section& section : list.sections) {
    std::erase_if(section.entries, IsSettled);
    std::ranges::copy_if(section.change, std::back_inserter(on_the_way),
                         [&](rules::Change what) { return std::ranges::count(on_the_way, what) == 0; });
    if (section.entries.empty()) continue;
    std::ranges::sort(on_the_way);
    section.change = left.empty() ? std::vector<rules::Change>{} : std::move(on_the_way);
    on_the_way.clear();
    left.push_back(std::move(section));
  }
  // Where nothing is left the lines of the day say so.
  if (!left.empty()) list.sections = std::move(left);
  return list;
}

}  // namespace rindwatch::morning
