#include "rules/alarms/life.hpp"

#include <cstddef>
#include <iterator>

namespace rindwatch::rules::watch {
namespace {

constexpr std::size_t kEvents = std::size(kLifeEvents), kStates = std::size(kLives);

// What a cell of the table says; the last two depend on whether it had been taken.
enum class Cell { kNothing, kA, kB, kC, kD, kG, kH, kI, kBack, kGone };
constexpr Cell o = Cell::kNothing, A = Cell::kA, B = Cell::kB, C = Cell::kC, D = Cell::kD, G = Cell::kG, H = Cell::kH,
               I = Cell::kI, back = Cell::kBack, gone = Cell::kGone;

// Letters as in the standard's diagram: A normal, B unacknowledged, C acknowledged, D returned to normal
// unacknowledged, G shelved, H suppressed by design, I out of service. E and F, the latched ones, are not used.
constexpr Cell kTable[kStates][kEvents] = {
    //        raise worsen take return shelve unshelve suppress unsuppress remove restore
    /* A */ {B, o, o, o, o, o, H, o, I, o},
    /* B */ {o, B, C, D, G, o, H, o, I, o},
    /* C */ {o, B, o, A, G, o, H, o, I, o},
    /* D */ {o, o, A, o, o, o, o, o, o, o},
    /* G */ {o, B, G, gone, G, back, o, o, I, o},
    /* H */ {o, B, H, gone, G, o, o, back, I, o},
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
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules::watch
