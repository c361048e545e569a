#include "sensors/first_bytes.hpp"

namespace rindwatch::sensors {

std::string FirstBytes(std::string_view bytes, std::size_t most) {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string shown;
  for (const char c : bytes.substr(0, most)) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '\\') {
      shown += "\\\\";
    } else if (byte >= 0x20 && byte < 0x7F) {
      shown += c;
    } else {
      shown += "\\x";
      shown += kDigits[byte >> 4U];
      shown += kDigits[byte & 0x0FU];
    }
  }
  if (bytes.size() > most) shown += "...";
  return shown;
}

}  // namespace rindwatch::sensors
