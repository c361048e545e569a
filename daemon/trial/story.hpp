// The trial's invented keeper: what IH entered, hung up, did, skipped, forgot and took in the past weeks. Every act
// goes the way of a phone's.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "daemon/house/house.hpp"
#include "web/router.hpp"

namespace rindwatch {

class Story {
 public:
  // The story ends at `now`; `router` has the API of the house.
  Story(House& house, const web::Router& router, rules::Instant now, std::uint64_t seed);

  // Does what falls before `at`. Call as the clock is stepped, never back.
  void Live(rules::Instant at);
  // When something comes next.
  rules::Instant Next() const;

 private:
  struct Chapter {
    rules::Instant at;
    void (Story::*happens)();
  };
  void Begin();
  void BloomiesCome();
  void PairComes();
  void PairIsDry();
  void CounterWheelComes();
  void BeginsToday();
  void MorningRound();
  void EveningRound();
  void TakeAlarms();

  void Plan(rules::Date first, rules::Date last);
  void DoRound(bool evening);
  void Sign(const boost::json::object& line, rules::Instant at);
  boost::json::object Act(const char* kind, boost::json::object body);
  boost::json::object Get(const char* path);
  rules::Instant AtLocal(rules::Date day, int hour, int minute) const;
  std::string NewId();

  House& house_;
  const web::Router& router_;
  const rules::DayTurn home_;
  const rules::Instant now_;
  const rules::Date today_;
  std::mt19937_64 random_;
  boost::json::value pair_, counter_;  // as the answers named them
  std::vector<Chapter> chapters_;      // ascending; the next at the back
};

}  // namespace rindwatch
