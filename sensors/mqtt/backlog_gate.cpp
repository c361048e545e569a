#include "sensors/mqtt/backlog_gate.hpp"

namespace rindwatch::sensors {

void BacklogGate::OnSession(bool present, Time now) {
  emptying_ = present;
  session_known_ = true;
  connected_ = now;
  last_handled_ = now;
}

bool BacklogGate::IsBacklog(Time now) {
  if (!emptying_ || !session_known_) return emptying_;
  const bool marker_is_lost = now - connected_ >= marker_;
  const bool paused = now - last_handled_ >= kPause;
  if ((marker_is_lost && paused) || now - connected_ >= kLongest) emptying_ = false;
  return emptying_;
}

}  // namespace rindwatch::sensors
