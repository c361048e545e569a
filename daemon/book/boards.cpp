#include "daemon/book/boards.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace rindwatch {

using rules::WheelId;

namespace {

constexpr int kNone = std::numeric_limits<int>::max();  // goes to the end

}  // namespace

void Boards::Lay(WheelId wheel, const Place& place, LotId lot) {
  const auto known = named_.try_emplace(Key{place.shelf, place.cave}, boards_.size());
  if (known.second) boards_.emplace_back();
  const Where where{known.first->second, place.number > 0 ? place.number : kNone, lot};
  if (const Where* before = WhereOf(wheel)) {
    if (*before == where) return;
    Lift(wheel);
  }
  ++version_;
  Board& board = boards_[where.board];
  board.row.insert(Find(board.row, where.given, wheel), {where.given, 0, wheel});
  ++board.lots[lot];
  board.counted = false;
  const auto at = static_cast<std::size_t>(wheel);
  if (wheels_.size() <= at) wheels_.resize(at + 1);
  wheels_[at] = where;
}

void Boards::Lift(WheelId wheel) {
  if (!WhereOf(wheel)) return;
  ++version_;
  const Where where = std::exchange(wheels_[static_cast<std::size_t>(wheel)], {});
  Board& board = boards_[where.board];
  board.row.erase(Find(board.row, where.given, wheel));
  board.counted = false;
  if (const auto lot = board.lots.find(where.lot); --lot->second == 0) board.lots.erase(lot);
}

int Boards::NumberOf(WheelId wheel) const {
  const Where* where = WhereOf(wheel);
  if (!where) return 0;
  Board& board = boards_[where->board];
  if (!std::exchange(board.counted, true)) Count(board.row);
  return Find(board.row, where->given, wheel)->number;
}

int Boards::LotBeside(WheelId wheel) const {
  const Where* where = WhereOf(wheel);
  return where ? boards_[where->board].lots.at(where->lot) : 0;
}

const Boards::Where* Boards::WhereOf(WheelId wheel) const {
  const auto at = static_cast<std::size_t>(wheel);
  return at < wheels_.size() && wheels_[at].board != kNowhere ? &wheels_[at] : nullptr;
}

std::set<rules::CaveId> Boards::CavesWith(const std::string& shelf) const {
  std::set<rules::CaveId> caves;
  for (auto at = named_.lower_bound(Key{shelf, std::nullopt}); at != named_.end() && at->first.first == shelf; ++at) {
    const auto& cave = at->first.second;
    if (cave && !boards_[at->second].row.empty()) caves.insert(*cave);
  }
  return caves;
}

void Boards::Count(std::vector<Lying>& row) {
  int end = 0;
  for (const Lying& lying : row) {
    if (lying.given != kNone) end = lying.given;
  }
  int last = 0;
  for (Lying& lying : row) {
    const bool free = lying.given != kNone && lying.given != last;
    if (free) last = lying.given;
    lying.number = free ? lying.given : ++end;
  }
}

// Where it lies in the row, or would.
std::vector<Boards::Lying>::iterator Boards::Find(std::vector<Lying>& row, int given, WheelId wheel) {
  return std::ranges::lower_bound(row, std::pair(given, wheel), {},
                                  [](const Lying& lying) { return std::pair(lying.given, lying.wheel); });
}

}  // namespace rindwatch
