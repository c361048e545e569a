// Tells an address of the keeper's choice, now and again, that the watch is well: whoever keeps it can say when it
// falls silent. Asks the store each time, so that it stops with either of loop and store. The loop's thread.
#pragma once

#include <functional>
#include <utility>

#include "daemon/clock/scheduler.hpp"
#include "daemon/config/notices.hpp"
#include "daemon/notices/carrier.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class WellPing {
 public:
  // `carrier` null, or no address: nobody is told. `judges`: whether the watch judges what it hears, which it does not
  // while the machine's clock is not known.
  WellPing(const Ping& ping, Store& store, Scheduler& scheduler, const rules::Clock& clock, Carrier* carrier,
           std::function<bool()> judges)
      : ping_(ping),
        store_(store),
        scheduler_(scheduler),
        clock_(clock),
        carrier_(carrier),
        judges_(std::move(judges)) {}
  void Begin();
  void Stop() { scheduler_.Forget("ping"); }

 private:
  void Send();

  const Ping& ping_;
  Store& store_;
  Scheduler& scheduler_;
  const rules::Clock& clock_;
  Carrier* carrier_;
  const std::function<bool()> judges_;
  bool failed_ = false;  // the last one did, and that was said
};

}  // namespace rindwatch
