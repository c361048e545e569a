#include "web/dress.hpp"

#include <algorithm>

#include "web/gzip.hpp"

namespace rindwatch::web {

namespace {

// Below, the headers weigh more than what is saved; above, compressing would hold up the loop.
constexpr std::size_t kLeastToCompress = 1024;
constexpr std::size_t kMostToCompress = std::size_t{2} * 1024 * 1024;

bool IsText(std::string_view type) {
  return type.starts_with("text/") || type.starts_with("application/json") ||
         type.starts_with("application/openmetrics");
}

bool IsWorthCompressing(const Response& response) {
  return response.body.size() >= kLeastToCompress && response.body.size() <= kMostToCompress &&
         IsText(response.content_type) && !response.headers.contains("Content-Encoding");
}

void Compress(const Request& request, Response& response) {
  if (!IsWorthCompressing(response)) return;
  response.headers.emplace("Vary", "Accept-Encoding");
  if (!AcceptsGzip(request.Header("accept-encoding"))) return;
  response.body = Gzip(response.body);
  response.headers["Content-Encoding"] = "gzip";
}

}  // namespace

std::string ContentPolicy(const std::vector<std::string>& style_hashes) {
  std::string styles = "'self'";
  for (const std::string& hash : style_hashes) styles += " '" + hash + "'";
  return "default-src 'none'; script-src 'self'; style-src " + styles +
         "; img-src 'self' data:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
         "base-uri 'none'; frame-ancestors 'none'; form-action 'self'";
}

void Dress(const Request& request, Response& response) {
  static const std::string policy = ContentPolicy();
  response.headers.emplace("Content-Security-Policy", policy);
  response.headers.emplace("X-Content-Type-Options", "nosniff");
  response.headers.emplace("Referrer-Policy", "no-referrer");
  response.headers.emplace("Cross-Origin-Resource-Policy", "same-origin");
  response.headers.emplace("Cache-Control", "no-store");
  for (auto& [name, value] : response.headers) {
    std::replace_if(
        value.begin(), value.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }, ' ');
  }
  Compress(request, response);
}

}  // namespace rindwatch::web
