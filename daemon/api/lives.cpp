#include "daemon/api/lives.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace rindwatch {

namespace {

template <typename T, typename Alike>
bool AllAlike(const std::vector<T>& a, const std::vector<T>& b, Alike alike) {
  return std::ranges::equal(a, b, alike);
}

}  // namespace

bool SameHistory(const rules::WheelHistory& a, const rules::WheelHistory& b) {
  if (a.entered != b.entered || a.gone != b.gone) return false;
  const auto plan = [](const auto& x, const auto& y) { return x.plan == y.plan && x.from == y.from; };
  const auto start = [](const auto& x, const auto& y) {
    return x.kind == y.kind && x.day == y.day && x.known_from == y.known_from && x.reckoned == y.reckoned;
  };
  const auto branch = [](const auto& x, const auto& y) { return x.option == y.option && x.at == y.at; };
  const auto act = [](const auto& x, const auto& y) {
    return x.at == y.at && x.known_from == y.known_from && x.done == y.done && x.skipped == y.skipped;
  };
  const auto undo = [](const auto& x, const auto& y) { return x.of == y.of && x.at == y.at; };
  const auto agreed = [](const auto& x, const auto& y) {
    return x.kind == y.kind && x.day == y.day && x.stands_for == y.stands_for && x.at == y.at;
  };
  return AllAlike(a.plans, b.plans, plan) && AllAlike(a.starts, b.starts, start) &&
         AllAlike(a.branches, b.branches, branch) && AllAlike(a.acts, b.acts, act) &&
         AllAlike(a.undos, b.undos, undo) && AllAlike(a.agreed, b.agreed, agreed);
}

std::vector<Life> LivesOf(const Book& book) {
  std::vector<Life> lives;
  // Only wheels that could be alike are held against each other.
  using Key = std::tuple<rules::CaveId, LotId, std::size_t, std::size_t, std::size_t>;
  std::map<Key, std::vector<std::size_t>> known;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto cave = book.PlaceOf(*wheel).cave;
    const rules::WheelHistory& history = wheel->history;
    auto& alike =
        known[{cave.value_or(0), wheel->lot, history.acts.size(), history.undos.size(), history.starts.size()}];
    const auto life =
        std::ranges::find_if(alike, [&](std::size_t n) { return SameHistory(lives[n].First().history, history); });
    if (life != alike.end()) {
      lives[*life].wheels.push_back(wheel);
      continue;
    }
    alike.push_back(lives.size());
    lives.push_back({cave ? book.Cave(*cave) : nullptr, {wheel}});
  }
  return lives;
}

}  // namespace rindwatch
