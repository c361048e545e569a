// Whatever bytes come, the server answers in words or ends the connection, and goes on serving.
#include <random>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

const std::string kRequests[] = {
    "GET /api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\nAccept-Encoding: gzip;q=0.5, *;q=0\r\n\r\n",
    "POST /api/length HTTP/1.1\r\nHost: [::1]:8080\r\nOrigin: http://[::1]:8080\r\nContent-Type: "
    "application/json\r\nContent-Length: 12\r\n\r\n{\"a\":[1,2]}\n",
    "POST /api/length HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: "
    "chunked\r\n\r\n3;x=y\r\nabc\r\n0\r\nTrailer: 1\r\n\r\n",
    "GET /wheels/12?a=b+c%20d&a=%2B HTTP/1.0\r\nIf-None-Match: \"abc\", W/\"d\"\r\n\r\n",
    "HEAD http://127.0.0.1/round HTTP/1.1\r\nHost: 127.0.0.1\r\nExpect: 100-continue\r\n\r\n",
};

class Noise {
 public:
  explicit Noise(unsigned seed) : random_(seed) {}

  std::string Bytes() {
    std::string out(Below(400), '\0');
    for (char& c : out) c = Byte();
    return out;
  }
  // A request with a few bytes changed, lost, doubled or put in.
  std::string Damaged() {
    std::string out = kRequests[Below(std::size(kRequests))];
    for (std::size_t edits = 1 + Below(6); edits > 0; --edits) {
      const std::size_t at = Below(out.size());
      switch (Below(4)) {
        case 0:
          out[at] = Byte();
          break;
        case 1:
          out.erase(at, 1 + Below(4));
          break;
        case 2:
          out.insert(at, out.substr(at, Below(20)));
          break;
        default:
          out.insert(at, 1, Byte());
          break;
      }
      if (out.empty()) out = "\r\n";
    }
    return out;
  }
  std::size_t Below(std::size_t bound) { return std::uniform_int_distribution<std::size_t>(0, bound - 1)(random_); }

 private:
  char Byte() { return static_cast<char>(std::uniform_int_distribution<int>(0, 255)(random_)); }
  std::mt19937 random_;
};

// Sends it, hangs up the sending half, and takes what comes.
void Offend(Running& running, const std::string& bytes) {
  Client client(running);
  client.Send(bytes);
  client.HangUp();
  REQUIRE(client.SeesEnd());
  const bool answered = client.Input().empty() || client.Input().starts_with("HTTP/1.");
  CHECK(answered);
}

}  // namespace

TEST_CASE("random bytes and damaged requests harm nothing") {
  ServerOptions options;
  options.bounds.request_time = 500ms;
  options.bounds.heartbeat = 50ms;
  Running running(options);
  Noise noise(20261125);
  for (int i = 0; i < 300; ++i) Offend(running, noise.Bytes());
  for (int i = 0; i < 1200; ++i) Offend(running, noise.Damaged());
  Client after(running);
  CHECK(after.Get("/api/hello").status == 200);
  CHECK(running.Until([&] { return running.server->Now().clients == 1; }));
  CHECK(running.server->Now().server_errors == 0);
  CHECK(running.log.empty());
}

TEST_CASE("clients that vanish at any byte leave no connection behind") {
  Running running;
  for (const std::string& request : kRequests) {
    for (std::size_t length = 0; length <= request.size(); length += 3) {
      Client client(running);
      client.Send(request.substr(0, length));
    }
  }
  CHECK(running.Until([&] { return running.server->Now().clients == 0; }));
}
