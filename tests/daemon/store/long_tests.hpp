// How often the tests that roll dice do so: a dozen times every day, hundreds of times when asked for.
#pragma once

#include <cstdlib>
#include <string_view>

namespace rindwatch::testing {

inline int Rounds(int everyday, int on_request) {
  const char* wanted = std::getenv("RINDWATCH_LONG");
  return wanted != nullptr && std::string_view(wanted) == "1" ? on_request : everyday;
}

}  // namespace rindwatch::testing
