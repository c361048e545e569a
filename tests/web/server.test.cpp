#include "web/server.hpp"

#include <sys/resource.h>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

TEST_CASE("a request is answered and the connection stays for the next") {
  Running running;
  Client client(running);
  for (int i = 0; i < 3; ++i) {
    const Reply reply = client.Get("/api/hello");
    CHECK(reply.status == 200);
    CHECK(reply.body == R"({"hello":1})");
    CHECK(reply.Header("Content-Type") == "application/json");
    CHECK(reply.Header("X-Content-Type-Options") == "nosniff");
    CHECK(reply.Header("Referrer-Policy") == "no-referrer");
    CHECK(reply.Header("Content-Security-Policy").find("default-src 'none'") == 0);
  }
  CHECK(running.server->Now().requests == 3);
  CHECK(running.server->Now().clients == 1);
}

TEST_CASE("a client that asks for the end gets it after its answer") {
  Running running;
  Client client(running);
  const Reply reply = client.Get("/api/hello", "Connection: close\r\n");
  CHECK(reply.status == 200);
  CHECK(reply.Header("Connection") == "close");
  CHECK(client.SeesEnd());
}

TEST_CASE("HTTP/1.0 is answered and ended, and kept only when asked to") {
  Running running;
  Client once(running);
  CHECK(once.Ask("GET /api/hello HTTP/1.0\r\nHost: 127.0.0.1\r\n\r\n").status == 200);
  CHECK(once.SeesEnd());
  Client twice(running);
  const std::string kept = "GET /api/hello HTTP/1.0\r\nHost: 127.0.0.1\r\nConnection: keep-alive\r\n\r\n";
  CHECK(twice.Ask(kept).status == 200);
  CHECK(twice.Ask(kept).status == 200);
}

TEST_CASE("HEAD gets the head of GET, its length, and nothing more") {
  Running running;
  Client client(running);
  const Reply reply = client.Ask("HEAD /api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  CHECK(reply.status == 200);
  CHECK(reply.Header("Content-Length") == "11");
  // Were there a body, it would stand before the next answer.
  CHECK(client.Get("/api/hello").body == R"({"hello":1})");
  CHECK(client.Ask("HEAD /api/nothing HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n").status == 404);
}

TEST_CASE("requests sent together are answered in their order, even when the first answer comes late") {
  Running running;
  Client client(running);
  const auto get = [](const std::string& path) { return "GET " + path + " HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"; };
  client.Send(get("/api/later") + get("/api/hello") + get("/api/wheels/7"));
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  running.Settle();
  running.waiting[0]({.body = "\"late\""});
  CHECK(client.Read().body == "\"late\"");
  CHECK(client.Read().body == R"({"hello":1})");
  CHECK(client.Read().body == "\"7\"");
}

TEST_CASE("a body is taken by its length, in chunks, and after 100 Continue") {
  Running running;
  Client client(running);
  CHECK(client.Post("/api/length", "12345").body == "5");
  const std::string head = "POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n";
  CHECK(client.Ask(head + "Transfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n2\r\nde\r\n0\r\n\r\n").body == "5");
  client.Send(head + "Content-Length: 4\r\nExpect: 100-continue\r\n\r\n");
  CHECK(client.Read(true).status == 100);
  client.Send("abcd");
  CHECK(client.Read().body == "4");
}

TEST_CASE("an answer given twice goes out once") {
  Running running;
  Client client(running);
  client.Send("GET /api/later HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  running.waiting[0]({.body = "1"});
  running.waiting[0]({.body = "2"});
  CHECK(client.Read().body == "1");
  CHECK(client.Get("/api/hello").body == R"({"hello":1})");
  // Nor does an old answer go to a later request.
  client.Send("GET /api/later HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  REQUIRE(running.Until([&] { return running.waiting.size() == 2; }));
  running.waiting[0]({.body = "3"});
  running.waiting[1]({.body = "4"});
  CHECK(client.Read().body == "4");
}

TEST_CASE("an answer for a client that went is dropped") {
  Running running;
  {
    Client client(running);
    client.Send("GET /api/later HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
    REQUIRE(running.Until([&] { return running.waiting.size() == 1; }));
  }
  running.waiting[0]({.body = "1"});
  CHECK(running.Until([&] { return running.server->Now().clients == 0; }));
}

TEST_CASE("a handler that throws is answered with 500 and told to the log, and the next request is served") {
  Running running;
  Client client(running);
  const Reply reply = client.Get("/api/broken");
  CHECK(reply.status == 500);
  CHECK(reply.body.find("the shelf fell down") != std::string::npos);
  REQUIRE(running.log.size() == 1);
  CHECK(running.log[0] == "GET /api/broken failed: the shelf fell down");
  CHECK(client.Get("/api/hello").status == 200);
  CHECK(running.server->Now().server_errors == 1);
}

TEST_CASE("requests that are not HTTP are answered with 400 in words, or ended") {
  struct {
    const char* bytes;
    const char* why;
  } const cases[] = {
      {"\x16\x03\x01\x02\r\n\r\n", "a TLS greeting on a plain port"},
      {"GET\r\n\r\n", "no target"},
      {"GET /api/hello\r\n\r\n", "no version"},
      {"GET /api/hello HTTP/9.9\r\nHost: a\r\n\r\n", "an unknown version"},
      {"GET /api/hello HTTP/1.1\r\n\r\n", "no Host (RFC 9112 section 3.2)"},
      {"GET /api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: evil\r\n\r\n", "two Hosts (RFC 9112 section 3.2)"},
      {"GET /api/hello HTTP/1.1\r\nHost : 127.0.0.1\r\n\r\n", "a blank before the colon (RFC 9112 section 5.1)"},
      {"GET api/hello HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", "a target without a slash"},
      {"GET /%zz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", "a broken escape"},
      {"POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 3\r\nTransfer-Encoding: "
       "chunked\r\n\r\n0\r\n\r\n",
       "two lengths, which is how requests are smuggled (RFC 9112 section 6.1)"},
      {"POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 3\r\nContent-Length: 4\r\n\r\nabcd",
       "two lengths that differ"},
      {"POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: -1\r\n\r\n", "a negative length"},
      {"POST /api/length HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n",
       "a chunk without size"},
  };
  Running running;
  for (const auto& [bytes, why] : cases) {
    INFO(why);
    Client client(running);
    const Reply reply = client.Ask(bytes);
    CHECK(reply.status == 400);
    CHECK(reply.body.find("\"error\"") != std::string::npos);
    CHECK(client.SeesEnd());
  }
  CHECK(running.log.empty());
  Client after(running);
  CHECK(after.Get("/api/hello").status == 200);
}

TEST_CASE("no address leads out of the page") {
  Running running;
  for (const char* target : {"/../etc/passwd", "/%2e%2e/etc/passwd", "/a/../../etc/passwd", "/..%2fetc/passwd",
                             "/a%5c..%5cetc", "/%00", "/a%0d%0aSet-Cookie:x", "/./a"}) {
    INFO(target);
    Client client(running);
    CHECK(client.Get(target).status == 400);
  }
}

TEST_CASE("a change under a name that is not ours, or from another site's page, is refused before any handler") {
  ServerOptions options;
  options.host_names = {"cellar.test"};
  Running running(options);
  Client client(running);
  const auto post = [&](const std::string& headers) {
    return client.Ask("POST /api/length HTTP/1.1\r\nContent-Length: 2\r\n" + headers + "\r\n{}").status;
  };
  const std::string json = "Content-Type: application/json\r\n";
  CHECK(post(json + "Host: 127.0.0.1:8080\r\n") == 200);
  CHECK(post(json + "Host: cellar.test\r\nOrigin: http://cellar.test\r\n") == 200);
  CHECK(post(json + "Host: evil.test\r\n") == 403);
  CHECK(post(json + "Host: cellar.test\r\nOrigin: http://evil.test\r\n") == 403);
  CHECK(post("Content-Type: text/plain\r\nHost: cellar.test\r\n") == 415);
  CHECK(client.Ask("GET /api/hello HTTP/1.1\r\nHost: evil.test\r\n\r\n").status == 403);
  CHECK(client.Ask("GET /round HTTP/1.1\r\nHost: evil.test\r\n\r\n").status == 200);
}

TEST_CASE("large JSON goes compressed to a client that takes it") {
  Running running;
  running.router.Get("/api/long", [](const Request&, const Answer& answer) {
    answer({.body = "\"" + std::string(4000, 'a') + "\""});
  });
  Client client(running);
  const Reply plain = client.Get("/api/long");
  CHECK(plain.body.size() == 4002);
  CHECK(plain.Header("Vary") == "Accept-Encoding");
  const Reply packed = client.Get("/api/long", "Accept-Encoding: gzip, br\r\n");
  CHECK(packed.Header("Content-Encoding") == "gzip");
  CHECK(packed.body.size() < 200);
}

TEST_CASE("who signed in is asked once for each request and stands in it") {
  class Known final : public Visitor {
   public:
    std::optional<std::string> KeeperOf(const Request& request) const override {
      if (request.Header("cookie") == "k=1") return "IH";
      return std::nullopt;
    }
  };
  boost::asio::io_context loop;
  Running running;
  running.router.Get("/api/who", [](const Request& request, const Answer& answer) {
    answer({.body = request.keeper.value_or("nobody")});
  });
  const Known known;
  running.server =
      std::make_unique<Server>(running.loop, ServerOptions{}, running.router.AsHandler(), running.events, known);
  Client client(running);
  CHECK(client.Get("/api/who", "Cookie: k=1\r\n").body == "IH");
  CHECK(client.Get("/api/who").body == "nobody");
}
