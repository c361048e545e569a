#include "web/listen.hpp"

#include <sys/stat.h>

#include <fstream>

#include "tests/catch.hpp"
#include "tests/web/harness.hpp"
#include "web/ask.hpp"

using namespace rindwatch::web;
using namespace rindwatch::web::test;

namespace {

// Why a server with these options does not come up.
std::string RefusalOf(const ServerOptions& options) {
  return WhatIsSaid([&] { const Running refused(options); });
}

}  // namespace

TEST_CASE("a port in use is said in one sentence with what to do") {
  Running first;
  ServerOptions options;
  options.port = first.server->Port();
  const std::string port = std::to_string(options.port);
  CHECK(RefusalOf(options) == "Cannot listen on 127.0.0.1:" + port +
                                  ": the port is in use. Another program listens there (`ss -ltnp 'sport = :" + port +
                                  "'` shows which); stop it, or choose another port.");
}

TEST_CASE("an address that is none, or not this machine's, is said") {
  ServerOptions options;
  options.address = "cellar.test";
  CHECK(RefusalOf(options).find("\"cellar.test\": it is not an IP address") != std::string::npos);
  options.address = "192.0.2.1";  // for documentation, RFC 5737: nobody has it
  CHECK(RefusalOf(options).find("this machine has no such address") != std::string::npos);
}

TEST_CASE("a server on all addresses takes callers over either protocol") {
  ServerOptions options;
  options.address = "::";
  std::unique_ptr<Running> running;
  try {
    running = std::make_unique<Running>(options);
  } catch (const std::runtime_error&) {
    WARN("this machine has no IPv6: not tried");
    SUCCEED();
    return;
  }
  Client client(*running);
  CHECK(client.Get("/api/hello").status == 200);
}

TEST_CASE("the socket for the command line is for this user alone and goes with the server") {
  const TempFolder folder;
  ServerOptions options;
  options.socket_path = folder / "s";
  {
    Running running(options);
    struct stat state {};
    REQUIRE(::stat(options.socket_path.c_str(), &state) == 0);
    CHECK((state.st_mode & 0777) == 0600);
  }
  CHECK_FALSE(std::filesystem::exists(options.socket_path));
}

TEST_CASE("a socket that a killed daemon left is replaced, one that is answered is not") {
  const TempFolder folder;
  ServerOptions options;
  options.socket_path = folder / "s";
  {
    boost::asio::io_context loop;
    boost::asio::local::stream_protocol::acceptor left(loop, {options.socket_path});
  }
  REQUIRE(std::filesystem::exists(options.socket_path));
  Running running(options);
  CHECK(RefusalOf(options).find("another Rindwatch answers there") != std::string::npos);
  CHECK(std::filesystem::exists(options.socket_path));
}

TEST_CASE("what is no socket, a folder that is not there and a path that is too long are said and left alone") {
  const TempFolder folder;
  ServerOptions options;
  options.socket_path = folder / "notes.txt";
  std::ofstream(options.socket_path) << "mine";
  CHECK(RefusalOf(options).find("a file of this name is there") != std::string::npos);
  CHECK(std::filesystem::file_size(options.socket_path) == 4);
  options.socket_path = folder / "no/s";
  CHECK(RefusalOf(options).find("does not exist. Create it") != std::string::npos);
  options.socket_path = folder / std::string(200, 'a');
  CHECK(RefusalOf(options).find("the system takes 107") != std::string::npos);
}
