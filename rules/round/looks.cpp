#include "rules/round/looks.hpp"

#include <set>
#include <tuple>

namespace rindwatch::rules {

std::vector<std::vector<LookFirst>> LooksToSay(const Round& round) {
  std::set<std::tuple<CaveId, std::string_view, bool, LookFirst>> said;
  std::vector<std::vector<LookFirst>> all;
  all.reserve(round.lines.size());
  for (const Round::Line& at : round.lines) {
    const RoundLine& line = *at.line;
    auto& to_say = all.emplace_back();
    if (!line.care->OnRound()) continue;
    for (const LookFirst look : line.look_first) {
      if (said.emplace(line.place.cave, line.place.shelf, line.marked, look).second) to_say.push_back(look);
    }
  }
  return all;
}

}  // namespace rindwatch::rules
