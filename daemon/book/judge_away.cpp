#include "daemon/book/judge_away.hpp"

#include <fmt/format.h>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

using boost::json::object;
using rules::Date;
using std::chrono::days;

namespace {

constexpr days kLongest{366};

}  // namespace

object JudgeAway(const Book& book, const object& body, JournalLine& line) {
  const Date from = fields::Day(body, "from"), back = fields::Day(body, "back");
  if (back <= from) {
    throw ActFault{"Whoever leaves comes back on a later day.", "back", "a day after " + ToText(from), ToText(back),
                   "Choose the first day on which somebody is there again."};
  }
  if (back - from > kLongest) {
    throw ActFault{"An absence is at most a year long.", "back", "at most " + ToText(from + kLongest), ToText(back),
                   ""};
  }
  if (!body.contains("caves") || body.at("caves").is_null()) return {};
  const auto caves = NameCaves(book, body, "caves");
  if (caves.empty()) {
    throw ActFault{"An absence is from at least one cave.", "caves", "at least one cave, or no such field", "none", ""};
  }
  if (caves.size() == 1) line.cave = caves.front();
  return {};
}

}  // namespace rindwatch
