// What keepers said of a wheel, as it stands now, and its number from the door.
#include <algorithm>

#include "daemon/book/book.hpp"
#include "daemon/book/newest.hpp"

namespace rindwatch {

using rules::CaveId;
using rules::WheelId;

const Since<Hold>* Book::HoldOf(const WheelRow& wheel) const {
  const auto* hold = NewestOf(*this, wheel.holds, wheel.id);
  return hold && hold->value.held ? hold : nullptr;
}

const Since<Cut>* Book::CutOf(const WheelRow& wheel) const { return NewestOf(*this, wheel.cuts, wheel.id); }

const OwnBand* Book::BandOf(const WheelRow& wheel) const {
  const auto* band = NewestOf(*this, wheel.bands, wheel.id);
  return band && (band->value.temperature || band->value.humidity) ? &band->value : nullptr;
}

rules::Grams Book::WeightOf(const WheelRow& wheel) const {
  const auto* weighed = NewestOf(*this, wheel.weighings, wheel.id);
  return weighed ? weighed->value : wheel.weight;
}

std::vector<const Since<std::optional<Mark>>*> Book::MarksOf(const WheelRow& wheel) const {
  std::vector<const Since<std::optional<Mark>>*> marks;
  for (const auto* mark : NotUndone(*this, wheel.marks, wheel.id)) {
    if (mark->value) {
      marks.push_back(mark);
    } else {
      marks.clear();
    }
  }
  return marks;
}

const Since<std::optional<rules::QualifyingRule>>* Book::RuleOf(const WheelRow& wheel) const {
  const auto* rule = NewestOf(*this, wheel.qualifying, wheel.id);
  return rule && rule->value ? rule : nullptr;
}

std::vector<rules::Vouch> Book::VouchesOf(const WheelRow& wheel) const {
  std::vector<rules::Vouch> vouches;
  for (const auto* vouch : NotUndone(*this, wheel.vouches, wheel.id)) vouches.push_back(vouch->value);
  return vouches;
}

const Since<Release>* Book::ReleaseOf(const WheelRow& wheel) const { return NewestOf(*this, wheel.releases, wheel.id); }

bool Book::IsLotNamed(const std::string& name) const {
  return std::ranges::any_of(lots_, [&](const auto& entry) { return entry.second.name == name; });
}

int Book::NextDoorNumber(CaveId cave, const std::string& shelf, const std::vector<WheelId>& except) const {
  int last = 0;
  for (const WheelRow* wheel : Wheels()) {
    const Place place = PlaceOf(*wheel);
    if (place.cave != cave || place.shelf != shelf || std::ranges::binary_search(except, wheel->id)) continue;
    last = std::max(last, NumberOf(*wheel));
  }
  return last + 1;
}

// As it was given when the wheel was put there. Where two have one number, as after an undo, the later goes to the end.
int Book::NumberOf(const WheelRow& wheel) const {
  if (door_numbers_.version != version_) {
    door_numbers_ = {version_, {}};
    std::map<std::pair<std::optional<CaveId>, std::string>, std::vector<std::pair<int, WheelId>>> shelves;
    for (const WheelRow* one : Wheels()) {
      const Place place = PlaceOf(*one);
      const int given = place.number > 0 ? place.number : std::numeric_limits<int>::max();
      shelves[{place.cave, place.shelf}].emplace_back(given, one->id);
    }
    for (auto& [place, wheels] : shelves) Number(wheels);
  }
  const auto found = door_numbers_.of.find(wheel.id);
  return found == door_numbers_.of.end() ? 0 : found->second;
}

void Book::Number(std::vector<std::pair<int, WheelId>>& shelf) const {
  std::ranges::sort(shelf);
  int end = 0;
  for (const auto& [given, id] : shelf) {
    if (given != std::numeric_limits<int>::max()) end = std::max(end, given);
  }
  int last = 0;
  for (const auto& [given, id] : shelf) {
    const bool free = given != std::numeric_limits<int>::max() && given != last;
    if (free) last = given;
    door_numbers_.of[id] = free ? given : ++end;
  }
}

}  // namespace rindwatch
