#include "web/listen.hpp"

#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <boost/asio/ip/v6_only.hpp>
#include <filesystem>
#include <stdexcept>
#include <utility>

namespace rindwatch::web {

namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;
using Local = asio::local::stream_protocol;

std::string Advice(const error_code& error, std::uint16_t port) {
  const std::string number = std::to_string(port);
  if (error == asio::error::address_in_use) {
    return "the port is in use. Another program listens there (`ss -ltnp 'sport = :" + number +
           "'` shows which); stop it, or choose another port";
  }
  if (error == asio::error::access_denied) {
    return "this user may not listen there. Ports below 1024 need a privilege; choose a higher one, such as 8080";
  }
  if (error == boost::system::errc::address_not_available) {
    return "this machine has no such address. Use 127.0.0.1 for this machine alone, or 0.0.0.0 for all its addresses";
  }
  return error.message();
}

[[noreturn]] void FailTcp(const tcp::endpoint& place, const error_code& error) {
  const std::string host =
      place.address().is_v6() ? "[" + place.address().to_string() + "]" : place.address().to_string();
  throw std::runtime_error("Cannot listen on " + host + ":" + std::to_string(place.port()) + ": " +
                           Advice(error, place.port()) + ".");
}

[[noreturn]] void FailLocal(const std::string& path, const std::string& why) {
  throw std::runtime_error("Cannot open the socket " + path + " for the command line: " + why + ".");
}

bool SomebodyAnswers(asio::io_context& loop, const std::string& path) {
  Local::socket probe(loop);
  error_code error;
  probe.connect(Local::endpoint(path), error);
  return !error;
}

// Whatever is no socket stays and makes the binding fail.
void RemoveLeftover(asio::io_context& loop, const std::string& path) {
  std::error_code ignored;
  if (std::filesystem::status(path, ignored).type() != std::filesystem::file_type::socket) return;
  if (SomebodyAnswers(loop, path)) FailLocal(path, "another Rindwatch answers there. Stop it, or choose another path");
  std::filesystem::remove(path, ignored);
}

std::string LocalAdvice(const error_code& error, const std::string& path) {
  if (error == asio::error::address_in_use) return "a file of this name is there. Remove it, or choose another path";
  if (error == boost::system::errc::no_such_file_or_directory) {
    return "the folder " + std::filesystem::path(path).parent_path().string() + " does not exist. Create it";
  }
  if (error == asio::error::access_denied) return "this user may not write in that folder. Choose another, or allow it";
  return error.message();
}

}  // namespace

tcp::acceptor ListenTcp(asio::io_context& loop, const std::string& address, std::uint16_t port) {
  error_code error;
  const auto ip = asio::ip::make_address(address, error);
  if (error) {
    throw std::runtime_error("Cannot listen on \"" + address +
                             "\": it is not an IP address. Use 127.0.0.1 for this machine alone, or 0.0.0.0 for the "
                             "network.");
  }
  const tcp::endpoint place(ip, port);
  tcp::acceptor acceptor(loop);
  acceptor.open(place.protocol(), error);
  if (error) FailTcp(place, error);
  // A restart need not wait until the connections of the last run are forgotten.
  acceptor.set_option(asio::socket_base::reuse_address(true), error);
  // "::" takes callers of both kinds.
  if (ip.is_v6()) acceptor.set_option(asio::ip::v6_only(false), error);
  acceptor.bind(place, error);
  if (!error) acceptor.listen(asio::socket_base::max_listen_connections, error);
  if (error) FailTcp(place, error);
  return acceptor;
}

LocalPlace::LocalPlace(asio::io_context& loop, std::string path) : path_(std::move(path)), acceptor_(loop) {
  constexpr std::size_t kLongest = sizeof(sockaddr_un::sun_path) - 1;
  const std::string wanted = std::exchange(path_, {});  // ours only when it is bound
  if (wanted.size() > kLongest) {
    FailLocal(wanted, "the path has " + std::to_string(wanted.size()) + " characters and the system takes " +
                          std::to_string(kLongest) + ". Choose a shorter one");
  }
  RemoveLeftover(loop, wanted);
  error_code error;
  acceptor_.open(Local(), error);
  if (error) FailLocal(wanted, error.message());
  // Before the binding, so that the file is never open to others, not even for a moment.
  if (::fchmod(acceptor_.native_handle(), S_IRUSR | S_IWUSR) != 0) FailLocal(wanted, "its rights cannot be set");
  acceptor_.bind(Local::endpoint(wanted), error);
  if (error) FailLocal(wanted, LocalAdvice(error, wanted));
  path_ = wanted;
  acceptor_.listen(asio::socket_base::max_listen_connections, error);
  if (error) FailLocal(wanted, error.message());
}

void LocalPlace::Remove() noexcept {
  if (!path_.empty()) ::unlink(path_.c_str());
  path_.clear();
}

}  // namespace rindwatch::web
