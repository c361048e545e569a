// The TCP connections of this process, seen from the kernel. The MQTT library does not give away its socket, and its
// own way to disconnect waits for the callback that must not be acknowledged.
#pragma once

#include <cstdint>
#include <vector>

namespace rindwatch::sensors {

struct Socket {
  int descriptor = -1;
  std::uint64_t inode = 0;  // a descriptor is used again, an inode tells one socket from the next
  bool operator==(const Socket&) const = default;
};

// The sockets that this process has open to a peer's `port`, without those that it accepted itself.
std::vector<Socket> SocketsTo(std::uint16_t port);

// Ends a connection both ways at once; nothing that is written to it afterwards leaves. Its owner still closes it.
// Harmless if the socket is gone.
void ShutDown(const Socket& socket);

}  // namespace rindwatch::sensors
