#include "sensors/mqtt/sockets.hpp"

#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <numeric>
#include <optional>
#include <set>
#include <string>
#include <system_error>

namespace rindwatch::sensors {
namespace {

using NameOf = int (*)(int, sockaddr*, socklen_t*);

// The port of one end; nothing for what is no TCP socket or has no such end.
std::optional<std::uint16_t> PortOf(int descriptor, NameOf name_of) {
  sockaddr_storage address{};
  socklen_t size = sizeof address;
  // NOLINTBEGIN(cppcoreguidelines-pro-type-reinterpret-cast): the kernel's one address type for all families.
  if (name_of(descriptor, reinterpret_cast<sockaddr*>(&address), &size) != 0) return std::nullopt;
  if (address.ss_family == AF_INET) return ntohs(reinterpret_cast<const sockaddr_in*>(&address)->sin_port);
  if (address.ss_family == AF_INET6) return ntohs(reinterpret_cast<const sockaddr_in6*>(&address)->sin6_port);
  // NOLINTEND(cppcoreguidelines-pro-type-reinterpret-cast)
  return std::nullopt;
}

bool IsListening(int descriptor) {
  int listening = 0;
  socklen_t size = sizeof listening;
  return getsockopt(descriptor, SOL_SOCKET, SO_ACCEPTCONN, &listening, &size) == 0 && listening != 0;
}

std::uint64_t InodeOf(int descriptor) {
  struct stat status {};
  return fstat(descriptor, &status) == 0 ? status.st_ino : 0;
}

// Every number that a descriptor can have.
std::vector<int> PossibleDescriptors() {
  std::vector<int> numbers(static_cast<std::size_t>(std::max(0L, sysconf(_SC_OPEN_MAX))));
  std::iota(numbers.begin(), numbers.end(), 0);
  return numbers;
}

std::vector<int> OpenDescriptors() {
  std::vector<int> numbers;
  std::error_code error;
  for (std::filesystem::directory_iterator entry("/proc/self/fd", error), end; !error && entry != end;
       entry.increment(error)) {
    const auto name = entry->path().filename().string();
    int number = 0;
    std::from_chars(name.data(), name.data() + name.size(), number);
    numbers.push_back(number);
  }
  return error ? PossibleDescriptors() : numbers;
}

}  // namespace

std::vector<Socket> SocketsTo(std::uint16_t port) {
  std::vector<Socket> open;
  std::set<std::uint16_t> served;
  for (const int descriptor : OpenDescriptors()) {
    if (IsListening(descriptor)) {
      if (const auto own = PortOf(descriptor, getsockname)) served.insert(*own);
    } else if (PortOf(descriptor, getpeername) == port) {
      open.push_back({descriptor, InodeOf(descriptor)});
    }
  }
  // A socket on a port that we serve is a client's that came to us.
  std::erase_if(open, [&](const Socket& s) { return served.contains(PortOf(s.descriptor, getsockname).value_or(0)); });
  return open;
}

void ShutDown(const Socket& socket) {
  if (InodeOf(socket.descriptor) == socket.inode) shutdown(socket.descriptor, SHUT_RDWR);
}

}  // namespace rindwatch::sensors
