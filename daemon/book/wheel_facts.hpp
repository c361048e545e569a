// What a keeper can say of a wheel beside its cares: held, cut, a band of its own, a fault that was seen.
#pragma once

#include <optional>
#include <string>

#include "daemon/book/since.hpp"
#include "rules/plans/plan.hpp"
#include "rules/release/qualifying.hpp"

namespace rindwatch {

// Not to be sold or eaten until somebody says so. A hold stops no care.
struct Hold {
  bool held = false;
  std::string why;
};

struct Cut {
  double left = 1;  // of a whole wheel
  std::string how;
};

// In place of the band of its stages; a channel without one keeps the stage's.
struct OwnBand {
  std::optional<rules::Figure> temperature, humidity;  // degrees Celsius, percent
};

// A fault that was seen at the shelf and is to be looked at again.
struct Mark {
  std::string what;  // "slime"
  std::optional<rules::Date> look_again;
};

// Let go, to be sold or eaten; with the name and reason of whoever did so before its rule was reached.
struct Release {
  std::optional<rules::ReleaseOverride> override_by;
};

}  // namespace rindwatch
