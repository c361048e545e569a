// Accepts clients at one door until it is closed. A failed accept (no file descriptor left) is said once, and after a
// pause it goes on.
#pragma once

#include <memory>
#include <string>
#include <type_traits>
#include <utility>

#include "web/door.hpp"
#include "web/net.hpp"
#include "web/session.hpp"

namespace rindwatch::web {

template <class Protocol>
class Listener final : public std::enable_shared_from_this<Listener<Protocol>> {
 public:
  using Acceptor = typename Protocol::acceptor;
  using Socket = typename Protocol::socket;
  using Stream = Plain<Protocol>;

  Listener(Acceptor acceptor, std::shared_ptr<Door> door)
      : acceptor_(std::move(acceptor)), pause_(acceptor_.get_executor()), door_(std::move(door)) {}

  void Accept() { acceptor_.async_accept(beast::bind_front_handler(&Listener::OnAccept, this->shared_from_this())); }

  void Close() noexcept {
    ErrorCode ignored;
    acceptor_.close(ignored);
    Cancel(pause_);
  }

 private:
  static constexpr bool kOverTcp = std::is_same_v<Protocol, asio::ip::tcp>;

  void OnAccept(ErrorCode error, Socket socket) {
    if (!acceptor_.is_open()) return;
    if (error) return Pause(error);
    failing_ = false;
    Admit(std::move(socket));
    Accept();
  }

  void Pause(ErrorCode error) {
    if (!failing_) door_->shared->Log("A client could not be accepted: " + error.message() + ". Trying on.");
    failing_ = true;
    pause_.expires_after(door_->shared->options.bounds.accept_pause);
    pause_.async_wait([self = this->shared_from_this()](ErrorCode cancelled) {
      if (!cancelled && self->acceptor_.is_open()) self->Accept();
    });
  }

  void Admit(Socket socket) {
    ErrorCode gone;
    const std::string peer = PeerOf(socket, gone);
    if (gone) return;  // it went before it was let in
    if (door_->inside.MakeRoom(peer)) return Enter(std::move(socket), door_->inside, peer)->Serve();
    if (door_->step.MakeRoom(peer)) return Enter(std::move(socket), door_->step, peer)->TurnAway();
    ++door_->shared->figures.refused;
  }

  std::shared_ptr<Session<Stream>> Enter(Socket socket, Connections& list, const std::string& peer) {
    return std::make_shared<Session<Stream>>(Stream(std::move(socket)), door_, list, peer);
  }

  static std::string PeerOf(Socket& socket, ErrorCode& error) {
    if constexpr (kOverTcp) {
      // An answer is one small piece: waiting to fill a packet would only delay it.
      socket.set_option(asio::ip::tcp::no_delay(true), error);
      auto address = socket.remote_endpoint(error).address();
      if (address.is_v6() && address.to_v6().is_v4_mapped()) {
        address = asio::ip::make_address_v4(asio::ip::v4_mapped, address.to_v6());
      }
      return address.to_string();
    } else {
      return "local";
    }
  }

  Acceptor acceptor_;
  asio::steady_timer pause_;
  const std::shared_ptr<Door> door_;
  bool failing_ = false;
};

}  // namespace rindwatch::web
