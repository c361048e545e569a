#include "daemon/morning/columns.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace rindwatch::morning {

namespace {

bool BeginsCharacter(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

// The first `width` characters.
std::string_view Head(std::string_view text, std::size_t width) {
  std::size_t seen = 0, at = 0;
  for (; at < text.size(); ++at) {
    if (BeginsCharacter(text[at]) && seen++ == width) break;
  }
  return text.substr(0, at);
}

// Whether a unit stands behind the blank, and a figure before it: neither means much without the other.
bool BindsUnit(std::string_view text, std::size_t blank) {
  constexpr std::array<std::string_view, 11> kUnits{"°C", "%", "ppm", "kg", "g", "mL", "L", "h", "min", "day", "days"};
  if (blank == 0 || blank == std::string_view::npos) return false;
  const char before = text[blank - 1];
  if (before != '+' && (before < '0' || before > '9')) return false;
  const std::string_view behind = text.substr(blank + 1);
  return std::ranges::any_of(kUnits, [behind](std::string_view unit) {
    if (!behind.starts_with(unit)) return false;
    if (behind.size() == unit.size()) return true;
    const char next = behind[unit.size()];
    return next != '-' && std::isalnum(static_cast<unsigned char>(next)) == 0 &&
           static_cast<unsigned char>(next) < 0x80;
  });
}

// Between the hours and the minutes of one span: "4 h 45 min".
bool BindsSpan(std::string_view text, std::size_t blank) {
  if (blank < 3 || text.substr(blank - 2, 2) != " h" || !BindsUnit(text, blank - 2)) return false;
  const std::size_t unit = text.find(' ', blank + 1);
  return BindsUnit(text, unit) && text.substr(unit + 1).starts_with("min");
}

}  // namespace

std::size_t WidthOf(std::string_view utf8) {
  return static_cast<std::size_t>(std::ranges::count_if(utf8, BeginsCharacter));
}

std::vector<std::string> Wrap(std::string_view text, std::size_t width) {
  std::vector<std::string> lines(1);
  while (!text.empty()) {
    std::size_t blank = text.find(' ');
    while (BindsUnit(text, blank) && WidthOf(text.substr(0, text.find(' ', blank + 1))) <= width)
      blank = text.find(' ', blank + 1);
    std::string_view word = text.substr(0, blank);
    text = blank == std::string_view::npos ? std::string_view{} : text.substr(blank + 1);
    std::string& line = lines.back();
    if (!line.empty() && WidthOf(line) + 1 + WidthOf(word) > width) lines.emplace_back();
    for (; WidthOf(word) > width; word = word.substr(Head(word, width).size())) {
      lines.back() += Head(word, width);
      lines.emplace_back();
    }
    if (!lines.back().empty()) lines.back() += ' ';
    lines.back() += word;
  }
  return lines;
}

std::string Unbroken(std::string_view text) {
  std::string bound;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == ' ' && (BindsUnit(text, at) || BindsSpan(text, at))) {
      bound += "\u00a0";
    } else {
      bound += text[at];
    }
  }
  return bound;
}

Row& Row::At(std::size_t column, std::string_view text, std::size_t width) {
  if (text.empty()) return *this;
  std::size_t row = 0;
  for (const std::string& line : Wrap(text, width)) Put(row++, column, line);
  return *this;
}

Row& Row::To(std::size_t column, std::string_view text) {
  const std::size_t width = WidthOf(text);
  if (width > 0) Put(0, column >= width ? column - width + 1 : 1, text);
  return *this;
}

// Columns are set from left to right.
void Row::Put(std::size_t row, std::size_t column, std::string_view text) {
  if (rows_.size() <= row) rows_.resize(row + 1);
  std::string& line = rows_[row];
  const std::size_t width = WidthOf(line);
  if (width + 1 < column) line.append(column - 1 - width, ' ');
  line += text;
}

std::string Row::Text() const {
  std::string text;
  for (const std::string& row : rows_) text += row.substr(0, row.find_last_not_of(' ') + 1) + "\n";
  return text;
}

std::string Indented(std::size_t column, std::string_view text) {
  return Row().At(column, text, kWidth - column + 1).Text();
}

}  // namespace rindwatch::morning
