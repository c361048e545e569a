// What keepers said of a wheel, as it stands now, and its number from the door.
#include <algorithm>

#include "daemon/book/book.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/book/parts.hpp"

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

const FaultSeen* Book::FaultOf(const rules::ActId& agreed) const {
  const auto found = faults_.find(ActOf(agreed));
  return found == faults_.end() ? nullptr : &found->second;
}

std::vector<std::string> Book::PutOffOn(const WheelRow& wheel, rules::Date day) const {
  std::vector<std::string> questions;
  for (const auto* later : NotUndone(*this, wheel.laters, wheel.id)) {
    if (home_.DayOf(later->from) == day) questions.push_back(later->value);
  }
  return questions;
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

int Book::NumberOf(const WheelRow& wheel) const { return boards_.NumberOf(wheel.id); }

int Book::LotOnShelf(const WheelRow& wheel) const { return boards_.LotBeside(wheel.id); }

bool Book::IsShelfInTwoCaves(const std::string& shelf) const {
  std::set<CaveId> caves = boards_.CavesWith(shelf);
  for (const auto& [id, cave] : caves_) {
    if (std::ranges::find(cave.shelves_now, shelf) != cave.shelves_now.end() && IsThere(cave)) caves.insert(id);
  }
  return caves.size() > 1;
}

}  // namespace rindwatch
