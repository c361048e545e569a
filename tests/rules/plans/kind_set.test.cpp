#include "rules/plans/kind_set.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::rules;
using enum CareKind;

TEST_CASE("a set of kinds holds each once, in the order of the kinds") {
  KindSet kinds{kWash, kTurn, kWash, kLastCareKind};
  CHECK(kinds.List() == std::vector{kTurn, kWash, kLastCareKind});
  CHECK(kinds.Count() == 3);
  CHECK(kinds.Has(kWash));
  CHECK_FALSE(kinds.Has(kBrush));
  kinds.Add(kBrush);
  CHECK(kinds == KindSet{std::vector{kBrush, kTurn, kLastCareKind, kWash}});
  CHECK(KindSet{}.Empty());
  CHECK(KindSet{}.List().empty());
}

TEST_CASE("sets are joined, parted and compared") {
  const KindSet wet{kWash, kTurn}, dry{kBrush, kTurn};
  CHECK(wet.With(dry) == KindSet{kTurn, kWash, kBrush});
  CHECK(wet.Without(dry) == KindSet{kWash});
  CHECK(wet.HasAnyOf(dry));
  CHECK_FALSE(wet.Without(dry).HasAnyOf(dry));
}
