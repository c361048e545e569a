// What wheels of a family are called in a sentence.
#pragma once

#include <string>

#include "daemon/words/words.hpp"

namespace rindwatch {

// Of so many: "bloomies" of 6, "bloomy" of 1, "pressed semi-hard" of 4. `family`: its short name, as ShortFamily says
// it.
std::string KinWord(const Words& words, std::string family, int count);

}  // namespace rindwatch
