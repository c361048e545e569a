#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

const std::string kLater = "GET /api/later HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n";

}  // namespace

TEST_CASE("a server without clients stops at once, and tells everybody who asked") {
  Running running;
  int done = 0;
  running.server->Stop([&] { ++done; });
  running.server->Stop([&] { ++done; });
  CHECK(done == 0);  // from the loop, never from within the call
  CHECK(running.Until([&] { return done == 2; }));
  running.server->Stop([&] { ++done; });
  CHECK(running.Until([&] { return done == 3; }));
}

TEST_CASE("a stopping server ends what is idle, answers what runs, and takes nobody new") {
  Running running;
  Client idle(running), listening(running), asking(running);
  CHECK(idle.Get("/api/hello").status == 200);
  listening.Send("GET /api/events HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  REQUIRE(listening.Hears("retry"));
  asking.Send(kLater + kLater);
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  bool done = false;
  running.server->Stop([&] { done = true; });
  CHECK(idle.SeesEnd());
  CHECK(listening.SeesEnd());
  CHECK_THROWS_AS(Client(running), std::runtime_error);
  CHECK_FALSE(done);
  running.waiting[0]({.body = "\"kept\""});
  const Reply reply = asking.Read();
  CHECK(reply.body == "\"kept\"");
  CHECK(reply.Header("Connection") == "close");
  CHECK(asking.SeesEnd());
  asking.Close();
  CHECK(running.Until([&] { return done; }));
  CHECK(running.waiting.size() == 1);  // the second request of the pair was not begun
  CHECK(running.server->Now().cut == 0);
}

TEST_CASE("a request that is being read when the server stops is still answered") {
  Running running;
  Client client(running);
  client.Send(
      "POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 4\r\n\r\nab");
  running.Settle();
  bool done = false;
  running.server->Stop([&] { done = true; });
  client.Send("cd");
  CHECK(client.Read().body == "4");
  client.Close();
  CHECK(running.Until([&] { return done; }));
}

TEST_CASE("what is not answered within the bound is cut") {
  ServerOptions options;
  options.bounds.stop_time = 50ms;
  Running running(options);
  Client client(running);
  client.Send(kLater);
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  bool done = false;
  running.server->Stop([&] { done = true; });
  CHECK(running.Until([&] { return done; }));
  CHECK(client.SeesEnd());
  CHECK(running.server->Now().cut == 1);
  running.waiting[0]({});
  running.Settle();
}

TEST_CASE("destroying the server cuts everybody, and late answers go nowhere") {
  Running running;
  Client idle(running), listening(running), asking(running);
  CHECK(idle.Get("/api/hello").status == 200);
  listening.Send("GET /api/events HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  REQUIRE(listening.Hears("retry"));
  asking.Send(kLater);
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  running.server.reset();
  running.waiting[0]({});
  running.events.Publish({"", "round", "{}"});
  running.Settle();
  CHECK(idle.SeesEnd());
  CHECK(listening.SeesEnd());
  CHECK(asking.SeesEnd());
}

TEST_CASE("the loop may end with requests still waiting") {
  Answer late;
  {
    Running running;
    Client client(running);
    client.Send(kLater);
    REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
    late = running.waiting[0];
  }
  late({});
  SUCCEED("nothing of the server was touched");
}
