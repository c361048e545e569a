#include "rules/round/round.hpp"

#include <algorithm>

namespace rindwatch::rules {

std::string_view ToText(Change change) {
  switch (change) {
    case Change::kGloves:
      return "gloves";
    case Change::kCloth:
      return "cloth";
    case Change::kWash:
      return "wash";
    case Change::kBrush:
      return "brush";
    case Change::kMask:
      return "mask";
  }
  return "gloves";
}

bool TakesTime(const std::vector<Change>& change) {
  return std::ranges::any_of(change, [](Change what) { return what == Change::kGloves || what == Change::kWash; });
}

int Round::Minutes() const {
  MinuteSum sum;
  for (const Line& line : lines) {
    if (line.line->care->OnRound()) sum.AddLine(line.line->seconds);
  }
  for (const RoundSection& section : sections) {
    if (section.left && !section.begun) sum.AddChange(section.seconds);
  }
  return sum.Minutes();
}

std::size_t Round::Left() const {
  return static_cast<std::size_t>(
      std::ranges::count_if(lines, [](const Line& line) { return line.line->care->OnRound(); }));
}

Round MakeRound(Date day, const RoundHabits& habits, std::vector<RoundGroup> groups) {
  RoundMaker maker(day, habits);
  GroupId id = 0;
  for (RoundGroup& group : groups) maker.Put(id++, std::move(group));
  return maker.Make();
}

}  // namespace rindwatch::rules
