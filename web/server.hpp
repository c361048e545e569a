// The HTTP server: listens on one TCP address and, if asked, on a Unix-domain socket for the command line. Lives on the
// loop's thread and is touched by no other. Everything that could grow has a bound.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "web/events.hpp"
#include "web/http.hpp"
#include "web/visitor.hpp"

namespace boost::asio {
class io_context;
}

namespace rindwatch::web {

// Each bound with what it costs to move it. Times are the world's, never scaled.
struct Bounds {
  // Request line and headers together. Less refuses browsers with many cookies; more lets a stranger hold that much
  // memory per connection. Over it: 431.
  std::size_t header_bytes = std::size_t{16} * 1024;
  // A request's body. A long evening's queue of acts is sent one by one, so this is ample. Over it: 413.
  std::size_t body_bytes = std::size_t{256} * 1024;
  // From a request's first byte to its last, and for each answer to be taken. Less cuts phones at the edge of the
  // reception; more lets a slow stranger hold a place longer.
  std::chrono::milliseconds request_time = std::chrono::seconds{30};
  // For a handler to answer, after which the client is told to try again (504). More than the store's longest wait.
  std::chrono::milliseconds answer_time = std::chrono::seconds{30};
  // For a connection with nothing to say. Less costs a phone a new handshake at each tap; more holds places.
  std::chrono::milliseconds idle_time = std::chrono::seconds{60};
  // Connections over TCP, open pages included; the Unix-domain socket has as many again of its own. When all are taken
  // the one that was idle longest makes room; when none is idle a newcomer gets 503. A few kilobytes each.
  std::size_t clients = 64;
  // Of these, from one address, so that one broken phone leaves places for the others. A reverse proxy is one address:
  // behind one, raise it to `clients`.
  std::size_t clients_per_address = 32;
  // What may wait for an open page that does not take its events; beyond it the page is cut and resumes by itself.
  // More bridges longer gaps in reception; the price is this much memory per page.
  std::size_t queue_bytes = std::size_t{256} * 1024;
  // Silence on an event stream is broken this often, so that both sides notice a dead connection. Less keeps a phone's
  // radio awake.
  std::chrono::milliseconds heartbeat = std::chrono::seconds{20};
  // How long a stopping server waits for requests that are being answered before it cuts them.
  std::chrono::milliseconds stop_time = std::chrono::seconds{5};
  // After an accept that failed (no more file descriptors) this long passes before the next.
  std::chrono::milliseconds accept_pause = std::chrono::milliseconds{200};
};

struct ServerOptions {
  // An IP address: 127.0.0.1 for this machine alone, 0.0.0.0 or :: for the network.
  std::string address = "127.0.0.1";
  // 0: the system chooses one, see Server::Port.
  std::uint16_t port = 0;
  // Path of the Unix-domain socket; empty: none. Created for this user alone; no Host or Origin is asked there.
  std::string socket_path;
  // Names, besides IP addresses, localhost and this machine's own, that a browser may use (see Gate).
  std::vector<std::string> host_names;
  // Where a keeper adds such a name, for the sentence that refuses one.
  std::string host_names_setting = "the configuration's list of host names";
  // The path at which a GET becomes a stream of events.
  std::string events_path = "/api/events";
  Bounds bounds;
  // Told what an operator should know (accepting failed, a handler broke), never what a client alone did wrong.
  std::function<void(std::string_view)> log;
};

class Server {
 public:
  // For /metrics and /health.
  struct Figures {
    std::size_t clients = 0;          // connected over TCP
    std::size_t local_clients = 0;    // connected over the Unix-domain socket
    std::size_t event_streams = 0;    // of both, pages that listen
    std::uint64_t requests = 0;       // answered since the start
    std::uint64_t server_errors = 0;  // of these, with 500 and above
    std::uint64_t refused = 0;        // newcomers turned away because all places were taken
    std::uint64_t cut = 0;            // connections ended by a bound of ours
  };

  // Listens when it returns; connections are served as the loop runs. `handler` is Router::Handle bound to a router
  // that outlives the server, as do `events` and `visitor`. Throws std::runtime_error with a sentence for the keeper if
  // the address or the socket cannot be had.
  Server(boost::asio::io_context& loop, const ServerOptions& options, Handler handler, Events& events,
         const Visitor& visitor);
  // Cuts what is left. No handler is called afterwards; an answer that comes later is dropped.
  ~Server();
  Server(const Server&) = delete;
  Server& operator=(const Server&) = delete;

  // The port that it listens on.
  std::uint16_t Port() const;
  Figures Now() const;

  // Stops in steps: no newcomers, idle connections and event streams end, running requests are answered within
  // Bounds::stop_time, what is left is cut. Then `done` is called, once, from the loop. A second call only adds a
  // `done`.
  void Stop(std::function<void()> done);

 private:
  class Body;
  std::shared_ptr<Body> body_;
};

}  // namespace rindwatch::web
