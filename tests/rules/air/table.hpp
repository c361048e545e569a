// The published tables under tests/reference/, row by row. A cell in quotes may hold commas; a doubled quote is a
// quote.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace rindwatch::rules {

using Row = std::map<std::string, std::string>;  // by the name of the column

// Fails the running test if there is no such table.
std::vector<Row> ReadTable(const std::string& name);
double NumberIn(const Row& row, const std::string& column);

}  // namespace rindwatch::rules
