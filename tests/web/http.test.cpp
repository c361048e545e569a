#include "web/http.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

TEST_CASE("what a request does not have reads as empty") {
  Request request;
  request.headers["host"] = "cellar.test";
  request.query["day"] = "2026-11-25";
  request.names["wheel"] = "12";
  CHECK(request.Header("host") == "cellar.test");
  CHECK(request.Query("day") == "2026-11-25");
  CHECK(request.Name("wheel") == "12");
  CHECK(request.Header("origin").empty());
  CHECK(request.Query("").empty());
  CHECK(request.Name("cave").empty());
}
