#include "web/gzip.hpp"

#include <algorithm>
#include <boost/beast/zlib/deflate_stream.hpp>
#include <boost/crc.hpp>
#include <cctype>
#include <charconv>
#include <stdexcept>

namespace rindwatch::web {

namespace {

namespace zlib = boost::beast::zlib;

// From 1 (fast) to 9 (small); JSON gains little beyond this.
constexpr int kLevel = 4;
constexpr int kWindowBits = 15;
constexpr int kMemoryLevel = 8;

std::string_view Trim(std::string_view text) {
  const std::size_t begin = std::min(text.find_first_not_of(" \t"), text.size());
  text.remove_prefix(begin);
  return text.substr(0, text.find_last_not_of(" \t") + 1);
}

bool EqualsIgnoringCase(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

// "0", "0.0", "0.000" and no other.
bool IsZeroWeight(std::string_view parameter) {
  parameter = Trim(parameter);
  if (parameter.size() < 3 || !EqualsIgnoringCase(parameter.substr(0, 2), "q=")) return false;
  return parameter.substr(2).find_first_not_of("0.") == std::string_view::npos;
}

void AppendLittleEndian(std::string& out, std::uint32_t value) {
  for (int shift = 0; shift < 32; shift += 8) out += static_cast<char>((value >> shift) & 0xffU);
}

}  // namespace

bool AcceptsGzip(std::string_view accept_encoding) {
  while (!accept_encoding.empty()) {
    const std::size_t end = std::min(accept_encoding.find(','), accept_encoding.size());
    const std::string_view entry = accept_encoding.substr(0, end);
    accept_encoding.remove_prefix(std::min(end + 1, accept_encoding.size()));
    const std::size_t semicolon = std::min(entry.find(';'), entry.size());
    if (!EqualsIgnoringCase(Trim(entry.substr(0, semicolon)), "gzip")) continue;
    return semicolon == entry.size() || !IsZeroWeight(entry.substr(semicolon + 1));
  }
  return false;
}

std::string Gzip(std::string_view bytes) {
  zlib::deflate_stream stream;
  stream.reset(kLevel, kWindowBits, kMemoryLevel, zlib::Strategy::normal);
  // Method deflate, no flags, no time, no operating system named.
  std::string out("\x1f\x8b\x08\0\0\0\0\0\0\xff", 10);
  const std::size_t head = out.size();
  out.resize(head + stream.upper_bound(bytes.size()) + 64);
  zlib::z_params params;
  params.next_in = bytes.data();
  params.avail_in = bytes.size();
  params.next_out = out.data() + head;
  params.avail_out = out.size() - head;
  boost::system::error_code error;
  stream.write(params, zlib::Flush::finish, error);
  if (error != zlib::error::end_of_stream) throw std::logic_error("compression ended early: " + error.message());
  out.resize(head + params.total_out);
  boost::crc_32_type crc;
  crc.process_bytes(bytes.data(), bytes.size());
  AppendLittleEndian(out, crc.checksum());
  AppendLittleEndian(out, static_cast<std::uint32_t>(bytes.size()));
  return out;
}

}  // namespace rindwatch::web
