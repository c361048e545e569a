#include "web/router.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

// Says which route it is and what its names matched.
Handler Say(const std::string& word) {
  return [word](const Request& request, const Answer& answer) {
    Response response{.body = word};
    for (const auto& [name, value] : request.names) response.body += " " + name + "=" + value;
    answer(response);
  };
}

Response Ask(const Router& router, const std::string& method, const std::string& path) {
  Response got;
  int answers = 0;
  Request request;
  request.method = method;
  request.path = path;
  router.Handle(request, [&](Response response) {
    got = std::move(response);
    ++answers;
  });
  CHECK(answers == 1);
  return got;
}

}  // namespace

TEST_CASE("a request finds its handler by method and path") {
  Router router;
  router.Get("/api/wheels/{wheel}", Say("wheel"));
  router.Get("/api/wheels/new", Say("new"));
  router.Get("/api/{place}/new", Say("place"));
  router.Get("/api/caves/{cave}/probes/{probe}", Say("probe"));
  router.Post("/api/acts", Say("act"));
  router.Get("/", Say("root"));

  struct {
    const char *method, *path;
    int status;
    const char* body;
  } const cases[] = {
      {"GET", "/api/wheels/12", 200, "wheel wheel=12"},
      {"GET", "/api/wheels/new", 200, "new"},
      {"GET", "/api/lots/new", 200, "place place=lots"},
      {"GET", "/api/caves/2/probes/a b", 200, "probe cave=2 probe=a b"},
      {"POST", "/api/acts", 200, "act"},
      {"HEAD", "/api/wheels/12", 200, "wheel wheel=12"},
      {"GET", "/", 200, "root"},
      {"GET", "/api/wheels/", 404, nullptr},
      {"GET", "/api/wheels", 404, nullptr},
      {"GET", "/api/wheels/12/", 404, nullptr},
      {"GET", "/api//new", 404, nullptr},
      {"GET", "/API/wheels/12", 404, nullptr},
      {"POST", "/api/nothing", 404, nullptr},
  };
  for (const auto& [method, path, status, body] : cases) {
    INFO(method << " " << path);
    const Response response = Ask(router, method, path);
    CHECK(response.status == status);
    if (body != nullptr) CHECK(response.body == body);
  }
}

TEST_CASE("another method is refused with those that would do") {
  Router router;
  router.Get("/api/round", Say("round"));
  router.Add("PUT", "/api/round", Say("put"));
  router.Post("/api/acts", Say("act"));
  const Response response = Ask(router, "DELETE", "/api/round");
  CHECK(response.status == 405);
  CHECK(response.headers.at("Allow") == "GET, HEAD, PUT");
  CHECK(Ask(router, "HEAD", "/api/acts").headers.at("Allow") == "POST");
}

TEST_CASE("the page takes what nobody else has, outside /api") {
  Router router;
  router.Get("/health", Say("health"));
  router.Otherwise(Say("page"));
  CHECK(Ask(router, "GET", "/round").body == "page");
  CHECK(Ask(router, "HEAD", "/wheels/12").body == "page");
  CHECK(Ask(router, "GET", "/health").body == "health");
  CHECK(Ask(router, "GET", "/apiary").body == "page");
  CHECK(Ask(router, "GET", "/api").status == 404);
  CHECK(Ask(router, "GET", "/api/nothing").status == 404);
  CHECK(Ask(router, "POST", "/round").status == 404);
  CHECK(Ask(router, "POST", "/health").status == 405);
}

TEST_CASE("a route that cannot be told from another is refused when it is added") {
  Router router;
  router.Get("/api/wheels/{wheel}", Say("a"));
  CHECK_THROWS_AS(router.Get("/api/wheels/{id}", Say("b")), std::logic_error);
  CHECK_THROWS_AS(router.Get("api/round", Say("c")), std::logic_error);
  CHECK_NOTHROW(router.Post("/api/wheels/{id}", Say("d")));
}
