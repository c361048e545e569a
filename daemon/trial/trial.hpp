// `rindwatch try`: a private broker, a simulated fridge or cellar and the watch on a fast clock, with weeks behind
// them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace rindwatch {

struct TrialOptions {
  std::string folder;                 // empty: a new one among the temporary files
  double speed = 60;                  // of the clock
  std::string address = "127.0.0.1";  // another: phones of that network reach the page
  std::optional<std::uint16_t> port;  // none: the usual one, or any that is free
  int past_days = 14;                 // lived before the page opens
  std::uint64_t seed = 20;            // equal seeds, equal fridges
  std::string zone;                   // empty: the machine's
  bool farm = false;                  // where it plays; a trial that goes on stays where it was
  bool careless = false;              // the keepers of the past forget, do in part and write things down late
  bool calm = false;                  // nothing befalls the place but what is asked for
  bool mishaps = false;               // what befalls it by chance did so in the past as well
};

// Returns when a signal stopped it. Throws what keeps it from starting, in one sentence.
void RunTrial(const TrialOptions& options);

}  // namespace rindwatch
