#include "daemon/book/beginning.hpp"

#include <utility>

namespace rindwatch {

boost::json::object Beginning(rules::StartKind start, rules::Date day, bool reckoned, boost::json::array wheels) {
  return {{"start", rules::ToText(start)},
          {"day", rules::ToText(day)},
          {"reckoned", reckoned},
          {"wheels", std::move(wheels)}};
}

}  // namespace rindwatch
