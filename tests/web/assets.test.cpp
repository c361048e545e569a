#include "web/assets.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

constexpr std::string_view kHtml =
    "<!doctype html><style>html{background:#14110d}</style><title>t</title><style media=\"print\">a{}</style>";

Assets MakeAssets() {
  return Assets({
      {"/index.html", kHtml, "packed html", "aaaa"},
      {"/app.js", "let a", "packed js", "bbbb"},
      {"/chunk-0A9ZK3QW.js", "let b", {}, "cccc"},
      {"/icons/wheel.svg", "<svg/>", {}, "dddd"},
      {"/manifest.webmanifest", "{}", {}, "eeee"},
  });
}

Response Get(const std::string& path, std::map<std::string, std::string> headers = {}) {
  Request request;
  request.method = "GET";
  request.path = path;
  request.headers = std::move(headers);
  return MakeAssets().Find(request);
}

}  // namespace

TEST_CASE("a file is found by its name and typed by its extension") {
  CHECK(Get("/app.js").body == "let a");
  CHECK(Get("/app.js").content_type == "text/javascript; charset=utf-8");
  CHECK(Get("/icons/wheel.svg").content_type == "image/svg+xml");
  CHECK(Get("/manifest.webmanifest").content_type == "application/manifest+json");
  CHECK(Get("/index.html").content_type == "text/html; charset=utf-8");
}

TEST_CASE("the page's own addresses lead to the page, names of files that are not there to 404") {
  for (const char* path : {"/", "/round", "/wheels/12", "/caves/a.b/x"}) {
    INFO(path);
    CHECK(Get(path).body == kHtml);
  }
  for (const char* path : {"/app.css", "/icons/none.svg", "/index.html/x.js", "/.env", "/app.js.map"}) {
    INFO(path);
    CHECK(Get(path).status == 404);
  }
}

TEST_CASE("who takes gzip gets the compressed twin, under a tag of its own") {
  const Response plain = Get("/app.js");
  CHECK(plain.headers.at("ETag") == "\"bbbb\"");
  CHECK(plain.headers.at("Vary") == "Accept-Encoding");
  CHECK_FALSE(plain.headers.contains("Content-Encoding"));
  const Response packed = Get("/app.js", {{"accept-encoding", "gzip"}});
  CHECK(packed.body == "packed js");
  CHECK(packed.headers.at("ETag") == "\"bbbb-gz\"");
  CHECK(packed.headers.at("Content-Encoding") == "gzip");
  const Response without = Get("/icons/wheel.svg", {{"accept-encoding", "gzip"}});
  CHECK(without.body == "<svg/>");
  CHECK_FALSE(without.headers.contains("Vary"));
}

TEST_CASE("who has it already gets 304 (RFC 9110 section 13.1.2)") {
  for (const char* known : {"\"bbbb\"", "W/\"bbbb\"", "\"x\", \"bbbb\"", "*"}) {
    INFO(known);
    const Response response = Get("/app.js", {{"if-none-match", known}});
    CHECK(response.status == 304);
    CHECK(response.body.empty());
    CHECK(response.headers.at("ETag") == "\"bbbb\"");
    CHECK(response.headers.contains("Cache-Control"));
    CHECK(response.headers.contains("Vary"));
  }
  for (const char* other : {"\"bbbb-gz\"", "\"bbb\"", "bbbb", ""}) {
    INFO(other);
    CHECK(Get("/app.js", {{"if-none-match", other}}).status == 200);
  }
}

TEST_CASE("only names with a hash of their content are kept for good") {
  CHECK(Get("/app.js").headers.at("Cache-Control") == "no-cache");
  CHECK(Get("/").headers.at("Cache-Control") == "no-cache");
  CHECK(Get("/chunk-0A9ZK3QW.js").headers.at("Cache-Control") == "public, max-age=31536000, immutable");
  for (const char* name : {"/a-ABCD2345.js", "/x/a-00000000.css"}) CHECK(HasHashedName(name));
  for (const char* name : {"/app.js", "/ABCD2345.js", "/a-ABCD234.js", "/a-abcd2345.js", "/a-ABCD2345",
                           "/-ABCD2345.js/a", "/a_ABCD2345.js", ""}) {
    INFO(name);
    CHECK_FALSE(HasHashedName(name));
  }
}

TEST_CASE("the page's own inline style is allowed by its hash, no other") {
  // Both made by `printf %s STYLE | openssl dgst -sha256 -binary | base64` (OpenSSL 3.0).
  const std::string policy = Get("/").headers.at("Content-Security-Policy");
  CHECK(policy.find("style-src 'self' 'sha256-jFtIb8kkbhACMTOnnSvNQZAS+aPkB/jaN4KbzQgXFqo=' "
                    "'sha256-X1RutGBrXCt9KkSaXMK7tHftWiRscFHOhxsS8tv8hBk=';") != std::string::npos);
  CHECK(policy.find("unsafe") == std::string::npos);
  CHECK_FALSE(Get("/app.js").headers.contains("Content-Security-Policy"));
}

TEST_CASE("a program that was built without a page says so") {
  Request request;
  request.path = "/";
  const Response response = Assets({}).Find(request);
  CHECK(response.status == 404);
  CHECK(response.body.find("RINDWATCH_PAGE_DIR") != std::string::npos);
}
