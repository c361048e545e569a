// The words as the build embedded them.
#pragma once

#include <string_view>

namespace rindwatch {

std::string_view EnglishWords();

}  // namespace rindwatch
