#include "rules/alarms/life.hpp"

#include <cstddef>
#include <iterator>

namespace rindwatch::rules::watch {
namespace {

constexpr std::size_t kEvents = std::size(kLifeEvents), kStates = std::size(kLives);

// What a cell of the table says; the last three depend on whether it had been taken.
enum class Cell { kNothing, kA, kB, kC, kD, kG, kH, kI, kBack, kGone, kAside };
// NOLINTBEGIN(readability-identifier-naming): as the standard's diagram and DEVELOPERS.md write them.
constexpr Cell o = Cell::kNothing, A = Cell::kA, B = Cell::kB, C = Cell::kC, D = Cell::kD, G = Cell::kG, H = Cell::kH,
               I = Cell::kI, back = Cell::kBack, gone = Cell::kGone, aside = Cell::kAside;
// NOLINTEND(readability-identifier-naming)

// Letters as in the standard's diagram: A normal, B unacknowledged, C acknowledged, D returned to normal
// unacknowledged, G shelved, H suppressed by design, I out of service. E and F, the latched ones, are not used.
// Who takes what was set aside has it in hand: the setting aside ends, and no bell comes back. What is taken has no
// bell to set aside.
constexpr Cell kTable[kStates][kEvents] = {
    //        raise worsen take return shelve unshelve suppress unsuppress remove restore
    /* A */ {B, o, o, o, o, o, H, o, I, o},
    /* B */ {o, B, C, D, G, o, H, o, I, o},
    /* C */ {o, B, o, A, o, o, H, o, I, o},
    /* D */ {o, o, A, o, o, o, o, o, o, o},
    /* G */ {o, B, C, D, G, B, o, o, I, o},
    /* H */ {o, B, H, gone, aside, o, o, back, I, o},
    /* I */ {o, o, o, o, o, o, o, o, o, A},
};

}  // namespace

std::optional<Life> After(Life from, LifeEvent event, bool taken) {
  switch (kTable[static_cast<std::size_t>(from)][static_cast<std::size_t>(event)]) {
    case Cell::kNothing:
      return std::nullopt;
    case Cell::kA:
      return Life::kNormal;
    case Cell::kB:
      return Life::kUnacknowledged;
    case Cell::kC:
      return Life::kAcknowledged;
    case Cell::kD:
      return Life::kReturned;
    case Cell::kG:
      return Life::kShelved;
    case Cell::kH:
      return Life::kSuppressed;
    case Cell::kI:
      return Life::kOutOfService;
    case Cell::kBack:
      return taken ? Life::kAcknowledged : Life::kUnacknowledged;
    case Cell::kGone:
      return taken ? Life::kNormal : Life::kReturned;
    case Cell::kAside:
      return taken ? std::nullopt : std::optional(Life::kShelved);
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules::watch
