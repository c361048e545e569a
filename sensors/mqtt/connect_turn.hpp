// Who may make the MQTT library open a socket: one link at a time, so that the sockets that are new afterwards are its
// own. Held until the broker has answered. Any thread.
#pragma once

#include <chrono>

namespace rindwatch::sensors {

class ConnectTurn {
 public:
  ConnectTurn() = default;
  // Gives the turn back.
  ~ConnectTurn();
  ConnectTurn(const ConnectTurn&) = delete;
  ConnectTurn& operator=(const ConnectTurn&) = delete;

  // Waits for the turn. False: not ours yet; ask again or give up.
  bool TakeWithin(std::chrono::milliseconds most);

 private:
  bool mine_ = false;
};

}  // namespace rindwatch::sensors
