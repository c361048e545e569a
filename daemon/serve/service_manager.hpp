// Talks to the service manager (systemd's notify protocol: datagrams to the socket that $NOTIFY_SOCKET names). Does
// nothing where there is none.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace rindwatch {

class ServiceManager {
 public:
  // Reads NOTIFY_SOCKET, WATCHDOG_USEC and WATCHDOG_PID.
  ServiceManager();

  void Tell(std::string_view state) const;  // "READY=1"
  // How often the watchdog wants to be fed at the latest; none: nobody watches.
  std::optional<std::chrono::microseconds> WatchdogSpan() const { return watchdog_; }

 private:
  std::string socket_;
  std::optional<std::chrono::microseconds> watchdog_;
};

}  // namespace rindwatch
