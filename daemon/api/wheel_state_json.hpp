// What keepers said of a wheel, as its summary tells it.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch {

// Adds lot_id, number, held, marks, left, cut_at, own_band, branch and grams.
void AddState(boost::json::object& into, const Book& book, const WheelRow& wheel, const rules::Standing& standing);
// Oldest first; undone ones left out.
boost::json::array WeighingsJson(const Book& book, const WheelRow& wheel);

}  // namespace rindwatch
