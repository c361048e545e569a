// What a kept notice says of itself, and for how long notices matter.
#pragma once

#include <chrono>

#include "daemon/store/store.hpp"

namespace rindwatch {

// As long as what is over is told to whoever heard of it.
inline constexpr rules::Millis kEndedFor = std::chrono::days{2};
// What was said longer ago belongs to alarms that nobody asks about.
inline constexpr rules::Millis kRememberFor = std::chrono::days{40};
// Who hears so soon after another one hears beside them, not in their place.
inline constexpr rules::Millis kTogether = std::chrono::minutes{1};

// Whether somebody read it, or may have. What was overtaken by a newer list did not: that one stands for itself.
inline bool Reached(const NoticeRow& row) {
  return row.state == "sent" || row.state == "shown" || row.state == "doubtful";
}

}  // namespace rindwatch
