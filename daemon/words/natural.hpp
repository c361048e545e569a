// Names as people count them.
#pragma once

#include <string>

namespace rindwatch {

// "A10" after "A9".
bool NaturallyBefore(const std::string& a, const std::string& b);

}  // namespace rindwatch
