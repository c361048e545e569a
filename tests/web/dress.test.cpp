#include "web/dress.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

Response Dressed(Response response, const std::string& accept = "gzip") {
  Request request;
  request.headers["accept-encoding"] = accept;
  Dress(request, response);
  return response;
}

}  // namespace

TEST_CASE("every response carries the headers that keep a browser honest") {
  const Response response = Dressed({.status = 404});
  CHECK(response.headers.at("X-Content-Type-Options") == "nosniff");
  CHECK(response.headers.at("Referrer-Policy") == "no-referrer");
  CHECK(response.headers.at("Cross-Origin-Resource-Policy") == "same-origin");
  CHECK(response.headers.at("Cache-Control") == "no-store");
  const std::string& policy = response.headers.at("Content-Security-Policy");
  for (const char* part : {"default-src 'none'", "script-src 'self'", "style-src 'self';", "connect-src 'self'",
                           "img-src 'self' data:", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"}) {
    INFO(part);
    CHECK(policy.find(part) != std::string::npos);
  }
}

TEST_CASE("what the maker of a response set stays") {
  const Response response = Dressed({.headers = {{"Cache-Control", "no-cache"}, {"Content-Security-Policy", "mine"}}});
  CHECK(response.headers.at("Cache-Control") == "no-cache");
  CHECK(response.headers.at("Content-Security-Policy") == "mine");
}

TEST_CASE("a header cannot break out of its line") {
  const Response response = Dressed({.headers = {{"Content-Disposition", "a\r\nSet-Cookie: x\tb"}}});
  CHECK(response.headers.at("Content-Disposition") == "a  Set-Cookie: x b");
}

TEST_CASE("text is compressed from 1 KiB up to 2 MiB, once") {
  const auto packed = [](Response response) {
    return Dressed(std::move(response)).headers.contains("Content-Encoding");
  };
  CHECK_FALSE(packed({.body = std::string(1023, 'a')}));
  CHECK(packed({.body = std::string(1024, 'a')}));
  CHECK(packed({.body = std::string(2 * 1024 * 1024, 'a')}));
  CHECK_FALSE(packed({.body = std::string(2 * 1024 * 1024 + 1, 'a')}));
  CHECK(packed({.content_type = "text/csv; charset=utf-8", .body = std::string(5000, 'a')}));
  CHECK_FALSE(packed({.content_type = "image/png", .body = std::string(5000, 'a')}));
  const Response before = Dressed({.headers = {{"Content-Encoding", "gzip"}}, .body = std::string(5000, 'a')});
  CHECK(before.body.size() == 5000);
  const Response plain = Dressed({.body = std::string(5000, 'a')}, "");
  CHECK(plain.body.size() == 5000);
  CHECK(plain.headers.at("Vary") == "Accept-Encoding");
}
