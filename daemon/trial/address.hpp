// How the page is reached, and the same as a picture for a phone's camera.
#pragma once

#include <cstdint>
#include <string>

namespace rindwatch {

// The addresses of this machine as others on its network see it; for 0.0.0.0 the first that is not loopback.
std::string AddressForPhones(const std::string& listen_address);
std::string PageAddress(const std::string& address, std::uint16_t port);
// A QR code in half blocks, dark on light whatever the terminal's colours.
std::string QrCode(const std::string& text);

}  // namespace rindwatch
