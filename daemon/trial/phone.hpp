// An invented keeper's phone: acts and questions go the way of a real one's, through the API's handlers.
#pragma once

#include <boost/json.hpp>
#include <cstdint>
#include <random>
#include <string>

#include "daemon/house/house.hpp"
#include "web/router.hpp"

namespace rindwatch {

class Phone {
 public:
  // Both outlive the phone; `router` has the API of the house.
  Phone(House& house, const web::Router& router, std::uint64_t seed) : house_(house), router_(router), random_(seed) {}

  rules::Instant Now() const { return house_.TheClock().Wall(); }
  const rules::DayTurn& Home() const { return house_.TheWatch().TheBook().Home(); }
  // The answer. Throws std::logic_error if the house refuses: a tale tells only of what can be done.
  boost::json::object Act(const std::string& keeper, const char* kind, boost::json::object body);
  boost::json::object Get(const std::string& path);

 private:
  std::string NewId();

  House& house_;
  const web::Router& router_;
  std::mt19937_64 random_;
};

}  // namespace rindwatch
