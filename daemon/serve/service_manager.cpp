#include "daemon/serve/service_manager.hpp"

#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <charconv>
#include <cstddef>
#include <cstdlib>
#include <cstring>

namespace rindwatch {

namespace {

std::string Variable(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): nothing here writes the environment
  return value ? value : "";
}

std::optional<std::int64_t> Number(const std::string& text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

}  // namespace

ServiceManager::ServiceManager() : socket_(Variable("NOTIFY_SOCKET")) {
  const auto span = Number(Variable("WATCHDOG_USEC"));
  const auto for_process = Number(Variable("WATCHDOG_PID"));
  if (span && *span > 0 && (!for_process || *for_process == getpid())) watchdog_ = std::chrono::microseconds{*span};
}

void ServiceManager::Tell(std::string_view state) const {
  sockaddr_un address{};
  if (socket_.empty() || socket_.size() >= sizeof address.sun_path) return;
  address.sun_family = AF_UNIX;
  std::memcpy(address.sun_path, socket_.data(), socket_.size());
  // A leading @ stands for the abstract name space, whose names begin with a zero byte.
  if (address.sun_path[0] == '@') address.sun_path[0] = '\0';
  const int descriptor = socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
  if (descriptor < 0) return;
  const auto size = static_cast<socklen_t>(offsetof(sockaddr_un, sun_path) + socket_.size());
  // A manager that does not listen is no reason to stop.
  [[maybe_unused]] const auto sent =
      sendto(descriptor, state.data(), state.size(), MSG_NOSIGNAL, reinterpret_cast<const sockaddr*>(&address), size);
  close(descriptor);
}

}  // namespace rindwatch
