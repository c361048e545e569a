#include "web/complaint.hpp"

#include <boost/json.hpp>
#include <string_view>
#include <utility>

namespace rindwatch::web {

namespace {

// Nobody reads more of what was found than this.
constexpr std::size_t kLongest = 400;

// How many bytes the UTF-8 character at the front has; 0 if there is none.
std::size_t CharacterAt(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0x80) return lead >= 0x20 && lead != 0x7f ? 1 : 0;
  const std::size_t length = lead >= 0xf5 ? 0 : lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : lead >= 0xc2 ? 2 : 0;
  if (length == 0 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xc0) != 0x80) return 0;
  }
  // Overlong forms, surrogates and what lies beyond the last code point.
  const bool wrong = (lead == 0xe0 && byte(1) < 0xa0) || (lead == 0xed && byte(1) > 0x9f) ||
                     (lead == 0xf0 && byte(1) < 0x90) || (lead == 0xf4 && byte(1) > 0x8f);
  return wrong ? 0 : length;
}

std::string Readable(std::string_view text) {
  std::string out;
  while (!text.empty() && out.size() < kLongest) {
    const std::size_t length = CharacterAt(text);
    out += length == 0 ? std::string_view{"?"} : text.substr(0, length);
    text.remove_prefix(length == 0 ? 1 : length);
  }
  return text.empty() ? out : out + " ...";
}

}  // namespace

Response Complain(int status, const Complaint& complaint) {
  boost::json::object error{{"what", Readable(complaint.what)},
                            {"expected", Readable(complaint.expected)},
                            {"found", Readable(complaint.found)},
                            {"do", Readable(complaint.action)}};
  if (!complaint.field.empty()) error["field"] = Readable(complaint.field);
  Response response;
  response.status = status;
  response.body = boost::json::serialize(boost::json::object{{"error", std::move(error)}});
  return response;
}

}  // namespace rindwatch::web
