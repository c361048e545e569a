#include "web/gate.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::web;

namespace {

Gate MakeGate() { return Gate({.names = {"cellar.test", "Pi", "pi.local"}, .setting = "[listen] names"}); }

Request Change(const std::string& host, const std::string& origin = "", const std::string& type = "application/json") {
  Request request;
  request.method = "POST";
  request.path = "/api/acts";
  if (!host.empty()) request.headers["host"] = host;
  if (!origin.empty()) request.headers["origin"] = origin;
  if (!type.empty()) request.headers["content-type"] = type;
  return request;
}

int StatusOf(const Request& request) {
  const auto refused = MakeGate().Refuse(request);
  return refused ? refused->status : 200;
}

}  // namespace

TEST_CASE("a change is taken under addresses and names of this machine, and no others") {
  struct {
    const char* host;
    int status;
  } const cases[] = {
      {"127.0.0.1", 200},
      {"127.0.0.1:8417", 200},
      {"192.168.1.20:8417", 200},
      {"[::1]", 200},
      {"[::1]:8417", 200},
      {"[fe80::1]:8417", 200},
      {"localhost:8417", 200},
      {"LOCALHOST", 200},
      {"cellar.test", 200},
      {"Cellar.Test.:8417", 200},  // the dot of a full name
      {"pi", 200},
      {"pi.local:8417", 200},
      {"", 403},
      {"evil.test", 403},
      {"cellar.test.evil.test", 403},
      {"xcellar.test", 403},
      {"localhost.evil.test", 403},
      {"127.0.0.1.evil.test", 403},
      {"127.0.0.1.", 200},
      {"127.1", 403},       // a browser writes it out in full before it sends it
      {"2130706433", 403},  // likewise
      {"0x7f000001", 403},  // likewise
      {"[::1", 403},
      {"::1", 403},
      {"[evil.test]", 403},
      {"127.0.0.1:x", 403},
      {"127.0.0.1:", 403},
      {"127.0.0.1:8417:8417", 403},
      {"127.0.0.1, evil.test", 403},
      {"evil.test@127.0.0.1", 403},
      {" ", 403},
  };
  for (const auto& [host, status] : cases) {
    INFO("Host: " << host);
    CHECK(StatusOf(Change(host)) == status);
  }
}

TEST_CASE("a change comes from our own page or from no page") {
  struct {
    const char *host, *origin;
    int status;
  } const cases[] = {
      {"cellar.test:8417", "http://cellar.test:8417", 200},
      {"cellar.test:8417", "HTTP://CELLAR.TEST:8417", 200},
      {"cellar.test", "http://cellar.test", 200},
      {"cellar.test:80", "http://cellar.test", 200},
      {"cellar.test", "https://cellar.test", 200},  // TLS ends at a proxy
      {"cellar.test:443", "https://cellar.test", 200},
      {"[::1]:8417", "http://[::1]:8417", 200},
      {"cellar.test:8417", "", 200},  // not a browser, or an old one: the type of the content protects
      {"cellar.test:8417", "http://cellar.test", 403},
      {"cellar.test:8417", "http://cellar.test:8418", 403},
      {"cellar.test:8417", "http://pi:8417", 403},
      {"cellar.test:8417", "http://evil.test", 403},
      {"cellar.test:8417", "http://cellar.test:8417.evil.test", 403},
      {"cellar.test:8417", "null", 403},
      {"cellar.test:8417", "file://", 403},
      {"cellar.test:8417", "ftp://cellar.test:8417", 403},
      {"cellar.test:8417", "http://cellar.test:8417, http://evil.test", 403},
      {"cellar.test:8417", "cellar.test:8417", 403},
  };
  for (const auto& [host, origin, status] : cases) {
    INFO("Host: " << host << " Origin: " << origin);
    CHECK(StatusOf(Change(host, origin)) == status);
  }
}

TEST_CASE("an empty Origin is not the same as none") {
  Request request = Change("cellar.test");
  request.headers["origin"] = "";
  CHECK(StatusOf(request) == 403);
}

TEST_CASE("a change must be JSON, which no form of another site can send") {
  struct {
    const char* type;
    int status;
  } const cases[] = {
      {"application/json", 200},
      {"Application/JSON; charset=utf-8", 200},
      {"application/json ;x", 200},
      {"", 415},
      {"text/plain", 415},
      {"application/x-www-form-urlencoded", 415},
      {"multipart/form-data; boundary=application/json", 415},
      {"text/plain; application/json", 415},
      {"application/json5", 415},
  };
  for (const auto& [type, status] : cases) {
    INFO("Content-Type: " << type);
    CHECK(StatusOf(Change("cellar.test", "", type)) == status);
  }
  for (const char* method : {"PUT", "PATCH", "DELETE", "OPTIONS", "BREW"}) {
    Request request = Change("cellar.test", "", "text/plain");
    request.method = method;
    CHECK(StatusOf(request) == 415);
  }
}

TEST_CASE("a look at the data needs a name of ours, the page and the figures do not") {
  Request look = Change("evil.test", "http://evil.test", "");
  look.method = "GET";
  CHECK(StatusOf(look) == 403);
  look.path = "/api";
  CHECK(StatusOf(look) == 403);
  for (const char* path : {"/", "/round", "/health", "/metrics", "/apiary"}) {
    look.path = path;
    CHECK(StatusOf(look) == 200);
  }
  // A page of another origin cannot read the answer anyway, and a link from elsewhere is no harm.
  look.path = "/api/round";
  look.headers["host"] = "cellar.test";
  CHECK(StatusOf(look) == 200);
}

TEST_CASE("who is refused is told what to do") {
  const auto refused = MakeGate().Refuse(Change("fridge.lan:8417"));
  REQUIRE(refused);
  CHECK(refused->body.find("\"found\":\"fridge.lan:8417\"") != std::string::npos);
  CHECK(refused->body.find("add the name to [listen] names") != std::string::npos);
}

TEST_CASE("a machine knows its own name") {
  const auto names = MachineNames();
  REQUIRE_FALSE(names.empty());
  CHECK(names[0] == "localhost");
  for (const std::string& name : names) CHECK(name.find_first_of(" :/") == std::string::npos);
}
