// A value that a line of the journal gives from an instant on, unless that line is undone.
#pragma once

#include "rules/care/history.hpp"
#include "rules/time.hpp"

namespace rindwatch {

template <typename T>
struct Since {
  rules::Instant from;
  rules::ActId act;
  T value;
};

}  // namespace rindwatch
