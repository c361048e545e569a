// The band of a cave over the last hours: a stage begins with the keeper's day, wheels come and go, limits are typed.
#pragma once

#include <boost/json.hpp>
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

struct BandStep {
  rules::Instant from;
  std::optional<rules::Figure> temperature, humidity;
};
// Steps from `from` on, oldest first, the last one in force now. What was said of the hours before them later counts as
// it is known now. `at_end`: what the watch says of the cave, where `to` is now; null of hours long past, whose end the
// watch of now knows nothing of.
std::vector<BandStep> BandSteps(const Book& book, const CaveRow& cave, const rules::CaveView* at_end,
                                rules::Instant from, rules::Instant to);
// [{from, temperature, humidity}]
boost::json::array StepsJson(const std::vector<BandStep>& steps);

// What moved the band of a cave between two instants, and what its band was then.
struct BandMove {
  struct Wheel {
    const WheelRow* wheel;
    rules::CaveId cave;  // in which it lies or, of one that left, lay
  };
  std::vector<Wheel> staged, came, left;  // came to another stage; was laid in; went
  bool typed = false;                     // a band or limits, by a keeper
  rules::CaveView after;                  // what is asked, and nothing of the air
};
BandMove MoveOfBand(const Book& book, const CaveRow& cave, rules::Instant before, rules::Instant after);

// The steps up to now, worked out anew only when the book or the day has changed, or each hour: a page asks for them
// with every reading. Loop's thread.
class BandMemory {
 public:
  // Wheels whose band did not meet that of the cave when the keeper's day of `now` began.
  const std::vector<rules::WheelId>& UnsuitedAtTurn(const Book& book, const CaveRow& cave, rules::Instant now);
  const std::vector<BandStep>& UpToNow(const Book& book, const CaveRow& cave, const rules::CaveView& now,
                                       rules::Instant from, rules::Instant to);

 private:
  struct Kept {
    std::uint64_t version = 0;
    rules::Instant at;
    std::vector<BandStep> steps;
  };
  struct KeptUnsuited {
    std::uint64_t version = 0;
    std::optional<rules::Date> day;
    std::vector<rules::WheelId> wheels;
  };
  std::map<rules::CaveId, Kept> kept_;
  std::map<rules::CaveId, KeptUnsuited> unsuited_;
};

}  // namespace rindwatch
