// The farm of IH and TR: a white room and a cellar, three hundred wheels of eleven families, a helper for the cellar.
#pragma once

#include "daemon/trial/tale.hpp"

namespace rindwatch {

class FarmTale : public Tale {
 public:
  FarmTale(Phone& phone, rules::Instant now, std::uint64_t seed, Habits habits);

 private:
  void Begin();
  void WalkYoungRoomsFirst();
  boost::json::object WhereTo(const boost::json::object& question) override;
  boost::json::object CaveNamed(const std::string& name);
};

}  // namespace rindwatch
