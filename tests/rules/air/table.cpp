#include "tests/rules/air/table.hpp"

#include <fstream>

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

std::vector<std::string> CellsOf(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back() += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else {
      cells.back() += c;
    }
  }
  return cells;
}

}  // namespace

std::vector<Row> ReadTable(const std::string& name) {
  std::string path = RINDWATCH_SOURCE_DIR;
  path.append("/tests/reference/").append(name);
  std::ifstream file(path);
  std::string line;
  REQUIRE(std::getline(file, line));
  const std::vector<std::string> columns = CellsOf(line);
  std::vector<Row> rows;
  while (std::getline(file, line)) {
    const std::vector<std::string> cells = CellsOf(line);
    REQUIRE(cells.size() == columns.size());
    Row row;
    for (std::size_t i = 0; i < cells.size(); ++i) row[columns[i]] = cells[i];
    rows.push_back(std::move(row));
  }
  return rows;
}

double NumberIn(const Row& row, const std::string& column) { return std::stod(row.at(column)); }

}  // namespace rindwatch::rules
