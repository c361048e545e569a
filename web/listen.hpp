// Opens the two kinds of listening places, or says in one sentence why not.
#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/local/stream_protocol.hpp>
#include <cstdint>
#include <string>

namespace rindwatch::web {

// Both throw std::runtime_error with a sentence for the keeper.
boost::asio::ip::tcp::acceptor ListenTcp(boost::asio::io_context& loop, const std::string& address, std::uint16_t port);

// A Unix-domain socket that this user alone may use. A file that a daemon left behind is replaced; one behind which
// somebody answers is not.
class LocalPlace {
 public:
  LocalPlace(boost::asio::io_context& loop, std::string path);
  // Removes the file, if Remove did not.
  ~LocalPlace() { Remove(); }
  LocalPlace(const LocalPlace&) = delete;
  LocalPlace& operator=(const LocalPlace&) = delete;

  boost::asio::local::stream_protocol::acceptor TakeAcceptor() { return std::move(acceptor_); }
  // From here on the path may belong to the next daemon.
  void Remove() noexcept;

 private:
  std::string path_;
  boost::asio::local::stream_protocol::acceptor acceptor_;
};

}  // namespace rindwatch::web
