// A mosquitto of our own on loopback, for the trial. Ends with this object, and with this process however it ends.
#pragma once

#include <sys/types.h>

#include <cstdint>
#include <string>

namespace rindwatch {

class PrivateBroker {
 public:
  // Its files lie in `folder`. Throws std::runtime_error with a sentence if mosquitto cannot be started.
  explicit PrivateBroker(const std::string& folder);
  ~PrivateBroker();
  PrivateBroker(const PrivateBroker&) = delete;
  PrivateBroker& operator=(const PrivateBroker&) = delete;

  std::uint16_t Port() const { return port_; }

 private:
  std::uint16_t port_ = 0;
  pid_t process_ = -1;
};

// A port of loopback that nobody has now, and whether one is free.
std::uint16_t FreePort();
bool IsFree(const std::string& address, std::uint16_t port);

}  // namespace rindwatch
