// Keeps the watch: the house, its way to the broker and the server, until a signal asks to stop.
#pragma once

#include <functional>

#include "daemon/config/config.hpp"
#include "daemon/house/house.hpp"

namespace rindwatch {

struct ServeOptions {
  Purpose purpose = Purpose::kServe;
  // As the store knew it before the watch began.
  LastKnown known;
  // Called when the server listens and before anything comes in: a start that fails for want of a port has begun no
  // watch.
  std::function<void()> begin;
  // Called in the loop when everything listens, with the port of the page.
  std::function<void(std::uint16_t port)> ready;
  // Called in the loop, once, when the broker is there and sends us what it gets; may be empty.
  std::function<void()> connected;
  // Called in the loop when the readings of a message from the broker were judged; may be empty.
  std::function<void()> heard;
  // Called in the loop when a signal asks to stop, before anything is taken down.
  std::function<void()> stopping;
};

enum class Ended {
  kAsked,     // by a signal
  kWasAhead,  // this machine's clock was ahead and is right now: begin anew, on a store that was told
};

// Returns when all is down. Throws what keeps it from starting, in one sentence.
Ended Serve(House& house, const Config& config, const ServeOptions& options);

// The socket beside the database on which the command line reaches a running daemon.
std::string SocketOf(const Config& config);
bool IsThisMachineAlone(const std::string& address);

}  // namespace rindwatch
