// Compression of answers that are made on the spot; the page's own files are compressed when the program is built.
#pragma once

#include <string>
#include <string_view>

namespace rindwatch::web {

// True if an Accept-Encoding header takes gzip (RFC 9110 section 12.5.3; a weight of 0 refuses).
bool AcceptsGzip(std::string_view accept_encoding);

// The bytes in the format of RFC 1952, compressed quickly rather than well.
std::string Gzip(std::string_view bytes);

}  // namespace rindwatch::web
