// Each bound of the server from both sides. Times are made short so that a test need not wait.
#include <sys/resource.h>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

ServerOptions With(const Bounds& bounds) {
  ServerOptions options;
  options.bounds = bounds;
  return options;
}

// A request whose head has exactly this many bytes.
std::string HeadOf(std::size_t size) {
  const std::string begin = "GET /api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Long: ";
  return begin + std::string(size - begin.size() - 4, 'a') + "\r\n\r\n";
}

const std::string kLater = "GET /api/later HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";

}  // namespace

TEST_CASE("a head up to the bound is read, one byte more is refused with 431") {
  Running running;
  const std::size_t bound = Bounds{}.header_bytes;
  Client good(running);
  CHECK(good.Ask(HeadOf(bound)).status == 200);
  Client bad(running);
  const Reply reply = bad.Ask(HeadOf(bound + 1));
  CHECK(reply.status == 431);
  CHECK(reply.body.find("16384 bytes at most") != std::string::npos);
  CHECK(bad.SeesEnd());
}

TEST_CASE("a body up to the bound is taken, one byte more is refused with 413 before it is read") {
  Running running;
  const std::size_t bound = Bounds{}.body_bytes;
  Client good(running);
  CHECK(good.Post("/api/length", std::string(bound, 'a')).body == std::to_string(bound));
  Client bad(running);
  const Reply reply = bad.Post("/api/length", std::string(bound + 1, 'a'));
  CHECK(reply.status == 413);
  CHECK(reply.body.find("262144 bytes at most") != std::string::npos);
  CHECK(bad.SeesEnd());
  Client huge(running);
  CHECK(
      huge.Ask("POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 18446744073709551615\r\n\r\n").status ==
      413);
}

TEST_CASE("chunks cannot get round the bound of the body") {
  Running running;
  const std::string head =
      "POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nTransfer-Encoding: "
      "chunked\r\n\r\n";
  const std::string chunk = "8000\r\n" + std::string(0x8000, 'a') + "\r\n";
  std::string full = head;
  for (int i = 0; i < 8; ++i) full += chunk;
  Client good(running);
  CHECK(good.Ask(full + "0\r\n\r\n").body == "262144");
  Client bad(running);
  CHECK(bad.Ask(full + "1\r\na\r\n0\r\n\r\n").status == 413);
  CHECK(bad.SeesEnd());
}

TEST_CASE("a request that trickles is cut when its time is over, one that comes in pieces is not") {
  Bounds bounds;
  bounds.request_time = 150ms;
  Running running(With(bounds));
  Client slow(running);
  slow.Send("GET /api/hello HTTP/1.1\r\nHost: 127.");
  CHECK(slow.SeesEnd());
  CHECK(running.Until([&] { return running.server->Now().cut == 1; }));
  Client body(running);
  body.Send("POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 5\r\n\r\nab");
  CHECK(body.SeesEnd());
  CHECK(running.Until([&] { return running.server->Now().cut == 2; }));
  Running patient;
  Client pieces(patient);
  for (const char* piece : {"GET /api/he", "llo HTTP/1.1\r\nHo", "st: 127.0.0.1\r\n", "\r\n"}) {
    pieces.Send(piece);
    patient.Settle();
  }
  CHECK(pieces.Read().status == 200);
}

TEST_CASE("trickling bytes do not buy more time") {
  Bounds bounds;
  bounds.request_time = 200ms;
  Running running(With(bounds));
  Client slow(running);
  const std::string request = "GET /api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Long: " + std::string(100000, 'a');
  std::size_t sent = 0;
  // A byte each few milliseconds: without a deadline for the whole it would go on for minutes.
  CHECK(running.Until([&] {
    slow.Send(request.substr(sent++, 1));
    running.RunFor(2ms);
    return slow.IsEnded();
  }));
  CHECK(sent < 1000);
}

TEST_CASE("a connection with nothing to say is ended, without counting as cut for a fault") {
  Bounds bounds;
  bounds.idle_time = 50ms;
  Running running(With(bounds));
  Client silent(running);
  CHECK(silent.SeesEnd());
  Client spoke(running);
  CHECK(spoke.Get("/api/hello").status == 200);
  CHECK(spoke.SeesEnd());
  CHECK(running.server->Now().cut == 0);
}

TEST_CASE("an answer that takes too long becomes 504, and what comes later is dropped") {
  Bounds bounds;
  bounds.answer_time = 60ms;
  Running running(With(bounds));
  Client client(running);
  const Reply reply = client.Ask(kLater);
  CHECK(reply.status == 504);
  CHECK(reply.body.find("Send the same again: it counts once.") != std::string::npos);
  CHECK(client.SeesEnd());
  REQUIRE(running.waiting.size() == 1);
  running.waiting[0]({});
  CHECK(running.log == std::vector<std::string>{"GET /api/later was not answered in time"});
}

TEST_CASE("a client that does not take its answer is cut when its time is over") {
  Bounds bounds;
  bounds.request_time = 100ms;
  Running running(With(bounds));
  Client client(running, "127.0.0.1", 4096);
  client.Send("GET /api/large?size=20000000 HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  CHECK(running.Until([&] { return running.server->Now().cut == 1; }));
  CHECK(running.server->Now().clients == 0);
  Running patient;
  Client healthy(patient);
  CHECK(healthy.Get("/api/large?size=20000000").body.size() == 20000000);
}

TEST_CASE("all places taken by work: a newcomer gets 503 in words, and comes in when one goes") {
  Bounds bounds;
  bounds.clients = 3;
  Running running(With(bounds));
  std::vector<std::unique_ptr<Client>> busy;
  for (std::size_t i = 0; i < 3; ++i) {
    busy.push_back(std::make_unique<Client>(running));
    busy.back()->Send(kLater);
    REQUIRE(running.Until([&] { return running.waiting.size() == i + 1; }));
  }
  Client newcomer(running);
  const Reply reply = newcomer.Get("/api/hello");
  CHECK(reply.status == 503);
  CHECK(reply.Header("Retry-After") == "30");
  CHECK(reply.body.find("3 at most") != std::string::npos);
  CHECK(newcomer.SeesEnd());
  CHECK(running.server->Now().refused == 1);
  running.waiting[1]({});
  CHECK(busy[1]->Read().status == 200);
  Client next(running);
  CHECK(next.Get("/api/hello").status == 200);
  CHECK(busy[1]->SeesEnd());  // idle, so it made room
}

TEST_CASE("all places taken by idle connections: the longest idle makes room") {
  Bounds bounds;
  bounds.clients = 3;
  Running running(With(bounds));
  Client first(running), second(running), third(running);
  for (Client* client : {&second, &first, &third}) CHECK(client->Get("/api/hello").status == 200);
  Client newcomer(running);
  CHECK(newcomer.Get("/api/hello").status == 200);
  CHECK(second.SeesEnd());
  CHECK_FALSE(first.IsEnded());
  CHECK_FALSE(third.IsEnded());
  CHECK(running.server->Now().refused == 0);
}

TEST_CASE("one address cannot take the places of the others") {
  Bounds bounds;
  bounds.clients = 4;
  bounds.clients_per_address = 2;
  Running running(With(bounds));
  Client a(running), b(running);
  a.Send(kLater);
  b.Send(kLater);
  REQUIRE(running.Until([&] { return running.waiting.size() == 2; }));
  Client same(running);
  CHECK(same.Get("/api/hello").status == 503);
  Client other(running, "127.0.0.2");
  CHECK(other.Get("/api/hello").status == 200);
}

TEST_CASE("a crowd of newcomers is turned away a few at a time and leaves nothing behind") {
  Bounds bounds;
  bounds.clients = 1;
  Running running(With(bounds));
  Client busy(running);
  busy.Send(kLater);
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  {
    std::vector<std::unique_ptr<Client>> crowd;
    for (int i = 0; i < 100; ++i) crowd.push_back(std::make_unique<Client>(running));
    for (auto& client : crowd) CHECK(client->SeesEnd());
  }
  CHECK(running.server->Now().refused == 100);
  running.waiting[0]({});
  CHECK(busy.Read().status == 200);
}

TEST_CASE("with no file descriptor left it says so once, waits, and goes on") {
  Bounds bounds;
  bounds.accept_pause = 10ms;
  Running running(With(bounds));
  Client client(running);  // its connection waits in the system's queue
  rlimit before{};
  REQUIRE(getrlimit(RLIMIT_NOFILE, &before) == 0);
  const int lowest_free = ::dup(0);
  ::close(lowest_free);
  rlimit none = before;
  none.rlim_cur = static_cast<rlim_t>(lowest_free);
  REQUIRE(setrlimit(RLIMIT_NOFILE, &none) == 0);
  const bool told = running.Until([&] { return !running.log.empty(); });
  running.Settle();
  REQUIRE(setrlimit(RLIMIT_NOFILE, &before) == 0);
  CHECK(told);
  CHECK(running.log.size() == 1);
  CHECK(client.Get("/api/hello").status == 200);
}
