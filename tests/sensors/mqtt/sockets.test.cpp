#include "sensors/mqtt/sockets.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <csignal>

#include "tests/catch.hpp"

using rindwatch::sensors::ShutDown;
using rindwatch::sensors::Socket;
using rindwatch::sensors::SocketsTo;

namespace {

// A listener on loopback with one client of this very process, and the accepted end.
class Line {
 public:
  Line() : listener_(socket(AF_INET, SOCK_STREAM, 0)), client_(socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    auto* any = reinterpret_cast<sockaddr*>(&address);
    socklen_t size = sizeof address;
    REQUIRE(bind(listener_, any, size) == 0);
    REQUIRE(getsockname(listener_, any, &size) == 0);
    port_ = ntohs(address.sin_port);
    REQUIRE(listen(listener_, 1) == 0);
    REQUIRE(connect(client_, any, size) == 0);
    REQUIRE(getsockname(client_, any, &size) == 0);
    client_port_ = ntohs(address.sin_port);
    accepted_ = accept(listener_, nullptr, nullptr);
    REQUIRE(accepted_ >= 0);
  }
  ~Line() {
    for (const int end : {listener_, client_, accepted_}) close(end);
  }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;

  std::uint16_t Port() const { return port_; }
  std::uint16_t ClientPort() const { return client_port_; }
  int Client() const { return client_; }
  int Accepted() const { return accepted_; }

 private:
  int listener_;
  int client_;
  int accepted_ = -1;
  std::uint16_t port_ = 0;
  std::uint16_t client_port_ = 0;
};

}  // namespace

TEST_CASE("a connection that we opened is found by its peer's port, one that we accepted is not") {
  const Line line;
  const auto found = SocketsTo(line.Port());
  REQUIRE(found.size() == 1);
  CHECK(found.front().descriptor == line.Client());
  CHECK(SocketsTo(line.ClientPort()).empty());
}

TEST_CASE("nothing that is written after a shutdown leaves") {
  std::signal(SIGPIPE, SIG_IGN);
  const Line line;
  REQUIRE(write(line.Client(), "a", 1) == 1);
  ShutDown(SocketsTo(line.Port()).front());
  CHECK(write(line.Client(), "b", 1) == -1);
  char text[4] = {};
  CHECK(read(line.Accepted(), text, sizeof text) == 1);
  CHECK(read(line.Accepted(), text, sizeof text) == 0);
}

TEST_CASE("a descriptor that became another socket is left alone") {
  const Line line;
  auto stale = SocketsTo(line.Port()).front();
  ++stale.inode;
  ShutDown(stale);
  CHECK(write(line.Client(), "a", 1) == 1);
}
