// A page of plain text with columns: what is set where, and how it breaks. Columns count from 1, in characters.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace rindwatch::morning {

inline constexpr std::size_t kWidth = 72;

// Characters, not bytes.
std::size_t WidthOf(std::string_view utf8);
// Broken at blanks into lines of at most `width`, but not between a figure and its unit; a word longer than that stands
// alone and is cut.
std::vector<std::string> Wrap(std::string_view text, std::size_t width);

// The same with no-break spaces between figures and their units, for whoever breaks lines by themselves.
std::string Unbroken(std::string_view text);

// One entry over as many rows as its longest column needs.
class Row {
 public:
  // Text from a column on, wrapped to `width`.
  Row& At(std::size_t column, std::string_view text, std::size_t width);
  // Text that ends at a column.
  Row& To(std::size_t column, std::string_view text);
  // Rows without blanks at their ends, each ended by a line feed.
  std::string Text() const;

 private:
  void Put(std::size_t row, std::size_t column, std::string_view text);
  std::vector<std::string> rows_;
};

// From a column on, wrapped to the page.
std::string Indented(std::size_t column, std::string_view text);

}  // namespace rindwatch::morning
