// A server on an ephemeral loopback port and clients that speak bytes to it, all on one thread: a client that waits
// runs the server's loop meanwhile, so nothing sleeps and nothing races.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <boost/asio/io_context.hpp>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "web/router.hpp"
#include "web/server.hpp"

namespace rindwatch::web::test {

using namespace std::chrono_literals;

// The text of the exception that comes; empty if none does.
template <class Function>
std::string WhatIsSaid(Function function) {
  try {
    function();
  } catch (const std::exception& said) {
    return said.what();
  }
  return {};
}

// A folder of its own that goes with the test.
class TempFolder {
 public:
  TempFolder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "rindwatch-web-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = pattern;
  }
  ~TempFolder() { std::filesystem::remove_all(path_); }
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  std::string operator/(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

struct Running {
  boost::asio::io_context loop{1};
  Router router;
  Events events;
  NobodyKnown nobody;
  std::vector<std::string> log;
  std::vector<Answer> waiting;  // the answers of /api/later, which the test gives
  std::unique_ptr<Server> server;

  explicit Running(ServerOptions options = {}, Events::Options hub = {}) : events(std::move(hub)) {
    options.log = [this](std::string_view line) { log.emplace_back(line); };
    AddRoutes();
    server = std::make_unique<Server>(loop, std::move(options), router.AsHandler(), events, nobody);
  }

  void AddRoutes() {
    router.Get("/api/hello", [](const Request&, const Answer& answer) { answer({.body = R"({"hello":1})"}); });
    router.Get("/api/wheels/{wheel}", [](const Request& request, const Answer& answer) {
      answer({.body = "\"" + std::string(request.Name("wheel")) + "\""});
    });
    router.Get("/api/later", [this](const Request&, Answer answer) { waiting.push_back(std::move(answer)); });
    router.Get("/api/broken", [](const Request&, const Answer&) { throw std::runtime_error("the shelf fell down"); });
    router.Get("/api/large", [](const Request& request, const Answer& answer) {
      answer({.content_type = "application/octet-stream",
              .body = std::string(std::stoul(std::string(request.Query("size"))), 'x')});
    });
    router.Post("/api/length", [](const Request& request, const Answer& answer) {
      answer({.body = std::to_string(request.body.size())});
    });
    router.Otherwise([](const Request&, const Answer& answer) {
      answer({.content_type = "text/html; charset=utf-8", .body = "<p>page</p>"});
    });
  }

  // Runs the loop until it is true; false if it did not become so within a time no healthy machine needs.
  bool Until(const std::function<bool()>& condition) {
    const auto deadline = std::chrono::steady_clock::now() + 20s;
    while (!condition()) {
      if (std::chrono::steady_clock::now() > deadline) return false;
      if (loop.stopped()) loop.restart();
      if (loop.poll() == 0) loop.run_one_for(1ms);
    }
    return true;
  }
  // For a client that takes its time; no test waits for a bound this way.
  void RunFor(std::chrono::milliseconds time) {
    if (loop.stopped()) loop.restart();
    loop.run_for(time);
  }
  // Whatever is ready now.
  void Settle() {
    if (loop.stopped()) loop.restart();
    while (loop.run_one_for(2ms) > 0) {
    }
  }
};

struct Reply {
  int status = 0;
  std::string head;  // the status line and the headers
  std::string body;

  // The value of a header, empty if it is not there.
  std::string Header(const std::string& name) const {
    const std::size_t at = head.find("\r\n" + name + ": ");
    if (at == std::string::npos) return {};
    const std::size_t begin = at + name.size() + 4;
    return head.substr(begin, head.find("\r\n", begin) - begin);
  }
};

class Client {
 public:
  // `from`: the loopback address that it comes from.
  explicit Client(Running& running, const std::string& from = "127.0.0.1", int receive_buffer = 0)
      : running_(running), fd_(::socket(AF_INET, SOCK_STREAM, 0)) {
    if (receive_buffer > 0) ::setsockopt(fd_, SOL_SOCKET, SO_RCVBUF, &receive_buffer, sizeof receive_buffer);
    sockaddr_in here = Address(from, 0);
    if (::bind(fd_, reinterpret_cast<sockaddr*>(&here), sizeof here) != 0) throw std::runtime_error("bind");
    Connect();
  }
  ~Client() { Close(); }
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  void Close() {
    if (fd_ >= 0) ::close(fd_);
    fd_ = -1;
  }

  // Sends no more; what the server says is still read.
  void HangUp() { ::shutdown(fd_, SHUT_WR); }

  void Send(const std::string& bytes) {
    std::size_t sent = 0;
    running_.Until([&] {
      if (broken_ || sent == bytes.size()) return true;
      const ssize_t n = ::send(fd_, bytes.data() + sent, bytes.size() - sent, MSG_DONTWAIT | MSG_NOSIGNAL);
      if (n > 0) sent += static_cast<std::size_t>(n);
      if (n < 0 && errno != EAGAIN) broken_ = true;
      return broken_ || sent == bytes.size();
    });
  }

  // The next answer by its length; of a HEAD, or 204 and 304, the head alone.
  Reply Read(bool head_only = false) {
    running_.Until([&] { return Fill() || input_.find("\r\n\r\n") != std::string::npos; });
    const std::size_t end = input_.find("\r\n\r\n");
    if (end == std::string::npos) return {};
    Reply reply;
    reply.head = input_.substr(0, end + 2);
    reply.status = std::stoi(reply.head.substr(9, 3));
    input_.erase(0, end + 4);
    const std::string length = reply.Header("Content-Length");
    if (head_only || length.empty()) return reply;
    const std::size_t size = std::stoul(length);
    running_.Until([&] { return Fill() || input_.size() >= size; });
    reply.body = input_.substr(0, size);
    input_.erase(0, size);
    return reply;
  }

  Reply Ask(const std::string& request) {
    Send(request);
    return Read(request.starts_with("HEAD"));
  }
  Reply Get(const std::string& target, const std::string& headers = "") {
    return Ask("GET " + target + " HTTP/1.1\r\nHost: 127.0.0.1\r\n" + headers + "\r\n");
  }
  Reply Post(const std::string& target, const std::string& body) {
    return Ask("POST " + target + " HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: " +
               std::to_string(body.size()) + "\r\n\r\n" + body);
  }

  // Whether this text comes before the end.
  bool Hears(const std::string& text) {
    running_.Until([&] { return Fill() || input_.find(text) != std::string::npos; });
    return input_.find(text) != std::string::npos;
  }
  // Whether the server ends the connection (while the loop runs).
  bool SeesEnd() {
    return running_.Until([&] { return Fill(); });
  }
  // Whether it has ended already.
  bool IsEnded() {
    while (Fill() == false && got_some_) {
    }
    return broken_;
  }
  const std::string& Input() const { return input_; }
  void Forget() { input_.clear(); }

 private:
  static sockaddr_in Address(const std::string& ip, std::uint16_t port) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(port);
    ::inet_pton(AF_INET, ip.c_str(), &address.sin_addr);
    return address;
  }
  void Connect() {
    sockaddr_in there = Address("127.0.0.1", running_.server->Port());
    if (::connect(fd_, reinterpret_cast<sockaddr*>(&there), sizeof there) != 0) throw std::runtime_error("connect");
  }
  // Takes what is there; true at the end of the connection.
  bool Fill() {
    const ssize_t n = broken_ ? 0 : ::recv(fd_, piece_.data(), piece_.size(), MSG_DONTWAIT);
    got_some_ = n > 0;
    if (n > 0) input_.append(piece_.data(), static_cast<std::size_t>(n));
    if (n == 0 || (n < 0 && errno != EAGAIN)) broken_ = true;
    return broken_;
  }

  Running& running_;
  int fd_;
  bool broken_ = false;
  bool got_some_ = false;
  std::string input_;
  std::vector<char> piece_ = std::vector<char>(65536);
};

}  // namespace rindwatch::web::test
