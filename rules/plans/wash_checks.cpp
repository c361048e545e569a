#include <algorithm>
#include <cctype>

#include "rules/plans/checks.hpp"

namespace rindwatch::rules {
namespace {

std::string Small(std::string_view text) {
  std::string small{text};
  std::ranges::transform(small, small.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return small;
}

bool Names(std::string_view text, std::string_view word) { return Small(text).find(word) != std::string::npos; }

// A cleaner, whatever it is sold as: it kills the rind, and a mixture with an acid can kill the keeper.
bool IsCleaner(std::string_view name) {
  return std::ranges::any_of(std::initializer_list<std::string_view>{"chlor", "bleach", "peracetic", "lye", "caustic"},
                             [&](std::string_view word) { return Names(name, word); });
}

}  // namespace

void CheckWash(const Care& care, const std::string& field, Faults& faults) {
  if (!care.wash) return;
  const std::string wash = FieldOf(field, "wash");
  CheckFigure(care.wash->salt, FieldOf(wash, "salt"), faults);
  for (std::size_t i = 0; i < care.wash->additions.size(); ++i) {
    const std::string& name = care.wash->additions[i].name;
    const std::string addition = FieldOf(FieldOf(wash, "additions", i), "name");
    if (!faults.IsSound(addition)) continue;
    if (IsCleaner(name)) {
      faults.Add(addition, "expected what may touch cheese, found " + Quoted(name) +
                               ", a cleaner; boards are cleaned with it, far from cheese, never rinds");
    } else if (Names(name, "vinegar") && std::ranges::none_of(care.cautions, [](const std::string& caution) {
                 return Names(caution, "chlorine");
               })) {
      faults.Add(addition,
                 "expected a caution beside vinegar, found none; write in the care's cautions that vinegar never meets "
                 "chlorine: the gas is poisonous");
    }
  }
}

}  // namespace rindwatch::rules
