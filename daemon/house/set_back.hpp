// A start by a clock that is right although it shows less than what was kept: it was ahead before.
#pragma once

#include "daemon/store/store.hpp"

namespace rindwatch {

// Before the watch begins. Tells the store, if it holds what was kept or judged under a later time, and answers until
// when; none: it holds nothing such.
std::optional<rules::Instant> SetBackIfAhead(Store& store, rules::Instant now);

}  // namespace rindwatch
