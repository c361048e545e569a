// Short names for the network library, in one place, and the few things that differ between a plain stream and one
// under TLS. Only server.cpp and ask.cpp include what includes this: it is slow to compile.
#pragma once

#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/local/stream_protocol.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <exception>

namespace rindwatch::web {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using ErrorCode = boost::system::error_code;

// A stream of either kind; a stream under TLS wraps one of these and get_lowest_layer finds it.
template <class Protocol>
using Plain = beast::basic_stream<Protocol>;

// Says to the other side that nothing more comes. A stream under TLS says it in its own words first: one overload.
template <class Protocol>
void EndSending(Plain<Protocol>& stream) {
  ErrorCode ignored;  // the other side may be gone, which is the end as well
  stream.socket().shutdown(asio::socket_base::shutdown_send, ignored);
}

// Ending what waits. The library lets these throw, though nothing in them fails on a system like ours; whoever is on
// the way out could do nothing about it either.
inline void Cancel(asio::steady_timer& timer) noexcept {
  try {
    timer.cancel();
  } catch (const std::exception&) {  // the timer goes with its owner
  }
}
template <class Protocol>
void CloseAtOnce(Plain<Protocol>& stream) noexcept {
  try {
    stream.close();
  } catch (const std::exception&) {  // the socket goes with its owner
  }
}

}  // namespace rindwatch::web
