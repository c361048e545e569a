#include "web/ask.hpp"

#include <boost/asio/local/stream_protocol.hpp>
#include <boost/asio/read_until.hpp>
#include <boost/asio/streambuf.hpp>
#include <boost/asio/write.hpp>
#include <thread>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

// A server whose loop runs on a thread of its own, since Ask waits.
struct Background {
  TempFolder folder;
  std::string path = folder / "s";
  Running running;
  std::thread thread;

  Background() : running(With(path)), thread([this] { running.loop.run(); }) {}
  ~Background() {
    running.loop.stop();
    thread.join();
  }
  static ServerOptions With(const std::string& path) {
    ServerOptions options;
    options.socket_path = path;
    return options;
  }
};

Request Get(const std::string& path) {
  Request request;
  request.method = "GET";
  request.path = path;
  return request;
}

}  // namespace

TEST_CASE("a question over the socket gets the handler's answer") {
  Background background;
  const Response hello = Ask(background.path, Get("/api/hello"));
  CHECK(hello.status == 200);
  CHECK(hello.content_type == "application/json");
  CHECK(hello.body == R"({"hello":1})");
  CHECK(Ask(background.path, Get("/api/wheels/a b+c")).body == "\"a b+c\"");
  CHECK(Ask(background.path, Get("/api/nothing")).status == 404);
  CHECK(Ask(background.path, Get("/api/broken")).status == 500);
  Request large = Get("/api/large");
  large.query["size"] = "3000000";
  CHECK(Ask(background.path, large).body.size() == 3000000);
  Request head = Get("/api/hello");
  head.method = "HEAD";
  CHECK(Ask(background.path, head).status == 200);
}

TEST_CASE("on the socket no Host or Origin is asked, and a change needs no ceremony") {
  Background background;
  Request request;
  request.method = "POST";
  request.path = "/api/length";
  request.body = "12345";
  CHECK(Ask(background.path, request).body == "5");
  request.headers["Host"] = "anything";
  request.headers["Content-Type"] = "text/csv";
  CHECK(Ask(background.path, request).body == "5");
}

TEST_CASE("a body beyond the bound is refused in words, even while it is being sent") {
  Background background;
  Request request;
  request.method = "POST";
  request.path = "/api/length";
  request.body = std::string(3000000, 'a');
  CHECK(Ask(background.path, request).status == 413);
}

TEST_CASE("where no daemon listens, that is said, and that nothing was sent") {
  const TempFolder folder;
  const auto nobody = [](const std::string& path) {
    try {
      Ask(path, Get("/api/hello"));
    } catch (const AskFailed& failed) {
      CHECK(std::string(failed.what()).find("No Rindwatch answers at") != std::string::npos);
      return failed.Nobody();
    }
    return false;
  };
  CHECK(nobody(folder / "none"));
  CHECK(nobody(folder / std::string(300, 'a')));
  CHECK(nobody(""));
  {
    boost::asio::io_context loop;
    boost::asio::local::stream_protocol::acceptor left(loop, {folder / "left"});
  }
  CHECK(nobody(folder / "left"));
}

TEST_CASE("a daemon that does not answer in time is told from one that is not there") {
  const TempFolder folder;
  boost::asio::io_context loop;
  boost::asio::local::stream_protocol::acceptor deaf(loop, {folder / "s"});
  try {
    Ask(folder / "s", Get("/api/hello"), 50ms);
    FAIL("nobody answered");
  } catch (const AskFailed& failed) {
    CHECK_FALSE(failed.Nobody());
    CHECK(std::string(failed.what()).find("did not answer within 50 ms") != std::string::npos);
  }
}

TEST_CASE("an answer that breaks off is told") {
  const TempFolder folder;
  boost::asio::io_context loop;
  boost::asio::local::stream_protocol::acceptor acceptor(loop, {folder / "s"});
  std::thread server([&] {
    auto socket = acceptor.accept();
    boost::asio::streambuf request;
    boost::asio::read_until(socket, request, "\r\n\r\n");
    boost::asio::write(socket, boost::asio::buffer(std::string("HTTP/1.1 200 OK\r\nContent-Length: 100\r\n\r\nhalf")));
  });
  CHECK(WhatIsSaid([&] { Ask(folder / "s", Get("/api/hello")); }).find("cut off") != std::string::npos);
  server.join();
}
