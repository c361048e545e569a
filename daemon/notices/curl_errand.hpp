// One errand by libcurl, in whichever thread runs it: a mail or a request, from the first connection to the outcome.
#pragma once

#include <functional>

#include "daemon/notices/carrier.hpp"

namespace rindwatch {

class Words;

struct ErrandHooks {
  // Called once when the other side is ready; blocks until the parcel may go. False: it may not.
  std::function<bool()> may_go;
  std::function<bool()> given_up;  // asked about every second
};

// Blocks; throws nothing.
Outcome RunErrand(const Parcel& parcel, const MailServer& mail, const Words& words, const ErrandHooks& hooks) noexcept;

}  // namespace rindwatch
