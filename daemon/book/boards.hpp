// What lies on which board now, counted from the door. Kept up to date wheel by wheel: an act that moves nothing costs
// nothing here. Owned by the book.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "daemon/book/rows.hpp"

namespace rindwatch {

class Boards {
 public:
  // Wherever it lay before, now it lies there; `place.number` is the one it was given, 0 if none was.
  void Lay(rules::WheelId wheel, const Place& place, LotId lot);
  // It lies nowhere any more: gone, or never entered.
  void Lift(rules::WheelId wheel);

  // Changes whenever a wheel comes to lie elsewhere, and with it the numbers of its neighbours.
  std::uint64_t Version() const { return version_; }

  // From 1. The number that a wheel was given; where two were given one, as after an undo, the later goes to the end,
  // and so does one that was given none. 0: it lies nowhere.
  int NumberOf(rules::WheelId wheel) const;
  // How many of its lot lie on its board, itself among them. 0: it lies nowhere.
  int LotBeside(rules::WheelId wheel) const;
  // With a board of that name on which something lies.
  std::set<rules::CaveId> CavesWith(const std::string& shelf) const;

 private:
  // Name first: boards of one name stand together.
  using Key = std::pair<std::string, std::optional<rules::CaveId>>;
  struct Lying {
    int given = 0;
    int number = 0;
    rules::WheelId wheel = 0;
  };
  struct Board {
    std::vector<Lying> row;  // by given number, then as they came
    std::map<LotId, int> lots;
    bool counted = false;  // the numbers are right; they are counted when one is asked for
  };
  static constexpr std::size_t kNowhere = static_cast<std::size_t>(-1);
  struct Where {
    std::size_t board = kNowhere;  // of `boards_`
    int given = 0;
    LotId lot = 0;
    bool operator==(const Where&) const = default;
  };

  // null: it lies nowhere.
  const Where* WhereOf(rules::WheelId wheel) const;
  static void Count(std::vector<Lying>& row);
  static std::vector<Lying>::iterator Find(std::vector<Lying>& row, int given, rules::WheelId wheel);

  mutable std::vector<Board> boards_;  // one that was named once stays, empty or not
  std::map<Key, std::size_t> named_;
  std::vector<Where> wheels_;  // by id, which count on from 1: asked of every wheel in turn
  std::uint64_t version_ = 0;
};

}  // namespace rindwatch
