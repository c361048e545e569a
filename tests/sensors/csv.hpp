// The rows of a table below tests/reference, by column name. Quotes as in RFC 4180, without line breaks in a field.
#pragma once

#include <fstream>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace rindwatch::tests {

inline std::vector<std::string> SplitCsv(const std::string& line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const bool doubled = quoted && line[i] == '"' && i + 1 < line.size() && line[i + 1] == '"';
    if (doubled) {
      fields.back() += line[++i];
    } else if (line[i] == '"') {
      quoted = !quoted;
    } else if (line[i] == ',' && !quoted) {
      fields.emplace_back();
    } else {
      fields.back() += line[i];
    }
  }
  return fields;
}

inline std::vector<std::map<std::string, std::string>> ReadCsv(const std::string& path) {
  std::ifstream file(path);
  std::string line;
  if (!std::getline(file, line)) throw std::runtime_error("cannot read " + path);
  const auto names = SplitCsv(line);
  std::vector<std::map<std::string, std::string>> rows;
  while (std::getline(file, line)) {
    const auto fields = SplitCsv(line);
    auto& row = rows.emplace_back();
    for (std::size_t i = 0; i < names.size() && i < fields.size(); ++i) row[names[i]] = fields[i];
  }
  return rows;
}

}  // namespace rindwatch::tests
