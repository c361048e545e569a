#include "daemon/words/kin_word.hpp"

namespace rindwatch {

std::string KinWord(const Words& words, std::string family, int count) {
  if (!family.empty() && family[0] >= 'A' && family[0] <= 'Z') family[0] = static_cast<char>(family[0] - 'A' + 'a');
  const std::string key = "family." + family + (count == 1 ? ".one" : ".other");
  return words.Has(key) ? words.Say(key) : family;
}

}  // namespace rindwatch
