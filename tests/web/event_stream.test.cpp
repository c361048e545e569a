#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

void Listen(Client& client, const std::string& more = "", const std::string& query = "") {
  client.Send("GET /api/events" + query + " HTTP/1.1\r\nHost: 127.0.0.1\r\n" + more + "\r\n");
}

}  // namespace

TEST_CASE("an open page hears what is published, from then on") {
  Running running;
  running.events.Publish({"", "round", "{\"n\":0}"});
  Client client(running);
  Listen(client);
  const Reply head = client.Read();
  CHECK(head.status == 200);
  CHECK(head.Header("Content-Type") == "text/event-stream");
  CHECK(head.Header("Cache-Control") == "no-store");
  CHECK(head.Header("Content-Length").empty());
  CHECK(client.Hears("retry: 2000\nid: 1-1\n\n"));
  running.events.Publish({"", "cave", "{\"n\":1}"});
  CHECK(client.Hears("id: 1-2\nevent: cave\ndata: {\"n\":1}\n\n"));
  CHECK(client.Input().find("\"n\":0") == std::string::npos);
  CHECK(running.server->Now().event_streams == 1);
  CHECK(running.events.Readers() == 1);
}

TEST_CASE("a page that was away hears what it missed, by header or by address") {
  Running running;
  for (int i = 1; i <= 5; ++i) running.events.Publish({"", "round", std::to_string(i)});
  Client by_header(running);
  Listen(by_header, "Last-Event-ID: 1-3\r\n");
  CHECK(by_header.Hears("data: 5\n\n"));
  CHECK(by_header.Input().find("data: 4") != std::string::npos);
  CHECK(by_header.Input().find("data: 3") == std::string::npos);
  Client by_address(running);
  Listen(by_address, "", "?after=1-4");
  CHECK(by_address.Hears("data: 5\n\n"));
  CHECK(by_address.Input().find("data: 4") == std::string::npos);
  // A browser that resumes sends the header, and the address that it was opened with: the header is newer.
  Client by_both(running);
  Listen(by_both, "Last-Event-ID: 1-4\r\n", "?after=1-1");
  CHECK(by_both.Hears("data: 5\n\n"));
  CHECK(by_both.Input().find("data: 2") == std::string::npos);
}

TEST_CASE("a page that was away too long, or since another run, is told to load anew") {
  Running running({}, {.history = 3, .history_bytes = 1000, .run = "7"});
  for (int i = 1; i <= 9; ++i) running.events.Publish({"", "round", std::to_string(i)});
  for (const char* id : {"7-5", "7-0", "6-9", "7-10", "nonsense"}) {
    INFO(id);
    Client client(running);
    Listen(client, "Last-Event-ID: " + std::string(id) + "\r\n");
    CHECK(client.Hears("id: 7-9\nevent: reload\ndata: {}\n\n"));
    CHECK(client.Input().find("event: round") == std::string::npos);
  }
  Client known(running);
  Listen(known, "Last-Event-ID: 7-6\r\n");
  CHECK(known.Hears("data: 9\n\n"));
  CHECK(known.Input().find("reload") == std::string::npos);
}

TEST_CASE("a page that takes nothing is cut at the bound, one that reads gets everything") {
  Bounds bounds;
  bounds.queue_bytes = 64 * 1024;
  ServerOptions options;
  options.bounds = bounds;
  Running running(options);
  Client slow(running, "127.0.0.1", 4096);
  Client quick(running);
  Listen(slow);
  Listen(quick);
  REQUIRE(running.Until([&] { return running.events.Readers() == 2; }));
  const std::string data(8 * 1024, 'x');
  int published = 0;
  // The system's own buffers fill first, then the queue.
  while (running.events.Readers() == 2 && published < 5000) {
    running.events.Publish({"", "round", data + std::to_string(published)});
    ++published;
    CHECK(quick.Hears("x" + std::to_string(published - 1) + "\n\n"));
    quick.Forget();
  }
  CHECK(running.events.Readers() == 1);
  CHECK(running.server->Now().event_streams == 1);
  CHECK(running.server->Now().cut == 1);
  running.events.Publish({"", "round", "last"});
  CHECK(quick.Hears("data: last\n\n"));
  CHECK(slow.SeesEnd());
}

TEST_CASE("what a page missed is sent whole, though it is more than the queue holds") {
  Bounds bounds;
  bounds.queue_bytes = 1024;
  ServerOptions options;
  options.bounds = bounds;
  Running running(options);
  for (int i = 1; i <= 20; ++i) running.events.Publish({"", "round", std::string(500, 'x') + std::to_string(i)});
  Client client(running);
  Listen(client, "Last-Event-ID: 1-0\r\n");
  CHECK(client.Hears("x20\n\n"));
  CHECK(client.Input().find("x1\n\n") != std::string::npos);
}

TEST_CASE("silence is broken by a comment") {
  ServerOptions options;
  options.bounds.heartbeat = 20ms;
  Running running(options);
  Client client(running);
  Listen(client);
  CHECK(client.Hears("\n\n:\n\n:\n\n"));
}

TEST_CASE("a page that goes is forgotten, and one that chatters is cut") {
  Running running;
  Client client(running);
  Listen(client);
  REQUIRE(client.Hears("retry"));
  client.Close();
  CHECK(running.Until([&] { return running.events.Readers() == 0 && running.server->Now().clients == 0; }));
  Client chatter(running);
  Listen(chatter);
  REQUIRE(chatter.Hears("retry"));
  CHECK(running.Until([&] {
    chatter.Send("x");
    return chatter.IsEnded();
  }));
}

TEST_CASE("an event stream is only had by GET, and a name that is not ours does not get it") {
  Running running;
  Client client(running);
  CHECK(client.Post("/api/events", "{}").status == 405);
  CHECK(client.Ask("HEAD /api/events HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n").status == 200);
  CHECK(client.Ask("GET /api/events HTTP/1.1\r\nHost: evil.test\r\n\r\n").status == 403);
  CHECK(running.events.Readers() == 0);
}
