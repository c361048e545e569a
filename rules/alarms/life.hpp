// The states of an alarm's life and what leads from one to the other: alarm state transitions of ANSI/ISA-18.2 and
// IEC 62682, without the latched ones, for nothing here has to be reset. One table; its names never reach a screen.
//
//   normal --raise--> unacknowledged --take--> acknowledged --return--> normal
//                       |    ^  '--return--> returned unacknowledged --take--> normal
//                       |    '--worsen-- acknowledged, shelved, suppressed: what got worse asks again
//   suppress and remove lead out of each state in which something stands; their ends lead back. What nobody has taken
//   can be shelved; to take it ends that.
#pragma once

#include <optional>

namespace rindwatch::rules::watch {

enum class Life {
  kNormal,          // nothing stands
  kUnacknowledged,  // stands, nobody has taken it
  kAcknowledged,    // stands, taken
  kReturned,        // was over before anybody took it
  kShelved,         // set aside by a keeper before anybody took it, always with an end
  kSuppressed,      // quiet by design: a keeper is there, the probe is wet
  kOutOfService,    // this kind is not judged here, by a keeper's decision
};
inline constexpr Life kLives[] = {Life::kNormal,  Life::kUnacknowledged, Life::kAcknowledged, Life::kReturned,
                                  Life::kShelved, Life::kSuppressed,     Life::kOutOfService};

enum class LifeEvent {
  kRaise,       // the condition has lasted for its on-delay
  kWorsen,      // a higher severity
  kTake,        // a keeper takes it
  kReturn,      // back inside for the off-delay
  kShelve,      // a keeper sets it aside
  kUnshelve,    // that time is over
  kSuppress,    // the design quiets it
  kUnsuppress,  // and no longer does
  kRemove,      // a keeper takes the kind out of service here
  kRestore,     // and puts it back
};
inline constexpr LifeEvent kLifeEvents[] = {
    LifeEvent::kRaise,    LifeEvent::kWorsen,   LifeEvent::kTake,       LifeEvent::kReturn, LifeEvent::kShelve,
    LifeEvent::kUnshelve, LifeEvent::kSuppress, LifeEvent::kUnsuppress, LifeEvent::kRemove, LifeEvent::kRestore};

// None: the event means nothing in this state and changes nothing. `taken`: whether a keeper had taken what is
// suppressed, or takes another alarm that tells of it, which decides where it comes back to.
std::optional<Life> After(Life from, LifeEvent event, bool taken);

}  // namespace rindwatch::rules::watch
