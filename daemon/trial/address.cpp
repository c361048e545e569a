#include "daemon/trial/address.hpp"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <qrencode.h>

#include <memory>
#include <stdexcept>

namespace rindwatch {

std::string AddressForPhones(const std::string& listen_address) {
  if (listen_address != "0.0.0.0" && listen_address != "::") return listen_address;
  ifaddrs* list = nullptr;
  if (getifaddrs(&list) != 0) return listen_address;
  const std::unique_ptr<ifaddrs, decltype(&freeifaddrs)> owner(list, freeifaddrs);
  for (const ifaddrs* entry = list; entry; entry = entry->ifa_next) {
    if (!entry->ifa_addr || entry->ifa_addr->sa_family != AF_INET || (entry->ifa_flags & IFF_LOOPBACK)) continue;
    char text[INET_ADDRSTRLEN] = {};
    const auto* address = reinterpret_cast<const sockaddr_in*>(entry->ifa_addr);
    if (inet_ntop(AF_INET, &address->sin_addr, text, sizeof text)) return text;
  }
  return "127.0.0.1";
}

std::string PageAddress(const std::string& address, std::uint16_t port) {
  const bool six = address.find(':') != std::string::npos;
  return six ? fmt::format("http://[{}]:{}/", address, port) : fmt::format("http://{}:{}/", address, port);
}

std::string QrCode(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_L, QR_MODE_8, 1), QRcode_free);
  if (!code) return {};
  constexpr int kQuiet = 2;
  const auto dark = [&code](int row, int column) {
    if (row < 0 || column < 0 || row >= code->width || column >= code->width) return false;
    return (code->data[row * code->width + column] & 1) != 0;
  };
  std::string picture;
  for (int row = -kQuiet; row < code->width + kQuiet; row += 2) {
    picture += "  \033[30;107m";
    for (int column = -kQuiet; column < code->width + kQuiet; ++column) {
      const bool upper = dark(row, column), lower = dark(row + 1, column);
      picture += upper && lower ? "█" : upper ? "▀" : lower ? "▄" : " ";
    }
    picture += "\033[0m\n";
  }
  return picture;
}

}  // namespace rindwatch
