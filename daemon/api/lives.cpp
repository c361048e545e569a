#include "daemon/api/lives.hpp"

#include <map>
#include <utility>

namespace rindwatch {

std::vector<Life> LivesOf(const Book& book) {
  std::vector<Life> lives;
  std::map<std::pair<rules::CaveId, const WheelLife*>, std::size_t> known;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto cave = book.PlaceOf(*wheel).cave;
    const auto [found, is_new] = known.try_emplace({cave.value_or(0), book.LifeOf(*wheel)}, lives.size());
    if (is_new) lives.push_back({cave ? book.Cave(*cave) : nullptr, {}});
    lives[found->second].wheels.push_back(wheel);
  }
  return lives;
}

}  // namespace rindwatch
