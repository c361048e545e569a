// By which limits a cave is watched, as a keeper reads and changes them; the loop's thread.
#pragma once

#include <boost/json.hpp>

#include "daemon/api/context.hpp"

namespace rindwatch {

// `cave` must be in the book.
boost::json::object LimitsPageJson(const ApiContext& context, const CaveRow& cave);

}  // namespace rindwatch
