// IH's fridge: two boxes watched and not, a third for the washed rind, a counter; five wheels of four families.
#pragma once

#include "daemon/trial/tale.hpp"

namespace rindwatch {

class FridgeTale : public Tale {
 public:
  FridgeTale(Phone& phone, rules::Instant now, std::uint64_t seed, Habits habits);

 private:
  void Begin();
  void BloomiesCome();
  void TommeComes();
  void BeginsToday();
  void RindWasWet();
  void UndoneAndSignedAgain();
  // The first cave of a name.
  boost::json::object CaveNamed(const char* name);
};

}  // namespace rindwatch
