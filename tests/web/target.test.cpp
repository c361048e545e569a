#include "web/target.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

TEST_CASE("a target is taken apart and decoded (RFC 9112 section 3.2, RFC 3986)") {
  struct {
    const char *target, *path;
    std::map<std::string, std::string> query;
  } const cases[] = {
      {"/", "/", {}},
      {"/api/round", "/api/round", {}},
      {"/wheels/12/", "/wheels/12/", {}},
      {"/a%20b/%C3%A9", "/a b/\xc3\xa9", {}},
      {"/a+b", "/a+b", {}},
      {"/x?", "/x", {{"", ""}}},
      {"/x?day=2026-11-25&cave=2", "/x", {{"day", "2026-11-25"}, {"cave", "2"}}},
      {"/x?topic=cellar%2F%2B%2F%23&word=a+b", "/x", {{"topic", "cellar/+/#"}, {"word", "a b"}}},
      {"/x?a=1&a=2", "/x", {{"a", "2"}}},
      {"/x?flag", "/x", {{"flag", ""}}},
      {"/x?q=/../", "/x", {{"q", "/../"}}},
      {"http://cellar.test:8417/round?a=b", "/round", {{"a", "b"}}},
      {"http://cellar.test", "/", {}},
      {"//evil.test/x", "//evil.test/x", {}},
  };
  for (const auto& [target, path, query] : cases) {
    INFO(target);
    const auto read = ReadTarget(target);
    REQUIRE(read);
    CHECK(read->path == path);
    CHECK(read->query == query);
  }
}

TEST_CASE("a target that is malformed, climbs or hides is not read") {
  for (const char* target : {"",          "x",          "*",        "/%",       "/%4",
                             "/%zz",      "/a b",       "/..",      "/../x",    "/a/..",
                             "/%2e%2e/x", "/.%2E/x",    "/./x",     "/a%2Fb",   "/a%5Cb",
                             "/%00",      "/a%0a",      "/%7f",     "/a#b",     "cellar.test:443",
                             "http:/x",   "mailto:a@b", "/x?a=%zz", "/\xc3\xa9"}) {
    INFO(target);
    CHECK_FALSE(ReadTarget(target));
  }
}

TEST_CASE("what is written reads back") {
  for (const Target& target :
       {Target{"/", {}}, Target{"/api/wheels/12", {{"day", "2026-11-25"}}},
        Target{"/a b/\xc3\xa9%", {{"topic", "cellar/+/#"}, {"a&b", "c=d e"}, {"", "x"}, {"f", ""}}}}) {
    const std::string text = WriteTarget(target);
    INFO(text);
    const auto read = ReadTarget(text);
    REQUIRE(read);
    CHECK(read->path == target.path);
    CHECK(read->query == target.query);
  }
}
