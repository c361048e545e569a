// "With these limits it would have rung 4 times instead of 31": limits tried on what was kept. A trial takes seconds to
// minutes, so it is begun by one request and looked after by others. Loop's thread; the work is the runner's.
#pragma once

#include <boost/json.hpp>
#include <map>
#include <memory>
#include <optional>

#include "daemon/api/context.hpp"
#include "daemon/replay/runner.hpp"

namespace rindwatch {

// Made as a shared pointer: an answer that comes after its end finds nobody.
class LimitsTrials : public std::enable_shared_from_this<LimitsTrials> {
 public:
  // Both must outlive it.
  LimitsTrials(const ApiContext& context, ReplayRunner& runner) : context_(context), runner_(runner) {}

  // {temperature, humidity, settings: {id: value}, off: [kind]}, what is left out is as it was; over the last three
  // months. The number to ask after; none: too many wait. Throws ActFault for a request that is not sound.
  std::optional<std::int64_t> Begin(const CaveRow& cave, const boost::json::object& wanted);
  // {done: false}, or with the result; null: nobody began it, or it was long ago.
  const boost::json::object* Look(std::int64_t number) const;

 private:
  static constexpr std::size_t kMostKept = 16;

  const ApiContext& context_;
  ReplayRunner& runner_;
  std::int64_t last_ = 0;
  std::map<std::int64_t, boost::json::object> kept_;
};

}  // namespace rindwatch
