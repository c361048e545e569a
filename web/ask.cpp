#include "web/ask.hpp"

#include <sys/un.h>

#include <boost/asio/io_context.hpp>
#include <utility>

#include "web/message.hpp"
#include "web/net.hpp"
#include "web/target.hpp"

namespace rindwatch::web {

namespace {

using Local = asio::local::stream_protocol;
using Message = http::request<http::string_body>;

// Exports travel this way.
constexpr std::uint64_t kLongestAnswer = 64ULL * 1024 * 1024;

Message ToMessage(const Request& request) {
  Message message;
  message.version(11);
  message.method_string(request.method);
  message.target(WriteTarget({request.path, request.query}));
  message.set(http::field::host, "localhost");
  for (const auto& [name, value] : request.headers) message.set(name, value);
  message.keep_alive(false);
  message.body() = request.body;
  if (!request.body.empty() || (request.method != "GET" && request.method != "HEAD")) {
    if (message.find(http::field::content_type) == message.end()) {
      message.set(http::field::content_type, "application/json");
    }
    message.content_length(request.body.size());
  }
  return message;
}

Response ToResponse(http::response<http::string_body>&& message) {
  Response response;
  response.status = static_cast<int>(message.result_int());
  response.content_type = ToText(message[http::field::content_type]);
  response.headers = ToHeaders(message);
  response.headers.erase("content-type");
  response.headers.erase("content-length");
  response.body = std::move(message.body());
  return response;
}

// One question on one connection, with one deadline over all its steps.
class Question {
 public:
  Question(std::string path, const Request& request, std::chrono::milliseconds timeout)
      : path_(std::move(path)), timeout_(timeout), message_(ToMessage(request)), stream_(loop_) {
    parser_.body_limit(kLongestAnswer);
    parser_.skip(request.method == "HEAD");
  }

  Response Run() {
    stream_.expires_after(timeout_);
    stream_.async_connect(Local::endpoint(path_), [this](ErrorCode error) { OnConnected(error); });
    loop_.run();
    if (error_) Fail();
    return ToResponse(parser_.release());
  }

 private:
  void OnConnected(ErrorCode error) {
    if (Failed(error)) return;
    connected_ = true;
    http::async_write(stream_, message_, [this](ErrorCode failed, std::size_t) { OnSent(failed); });
  }
  void OnSent(ErrorCode) {
    // A server that refuses a request may answer before it has read all: what it says is worth more than the failure.
    http::async_read(stream_, buffer_, parser_, [this](ErrorCode failed, std::size_t) { Failed(failed); });
  }
  bool Failed(ErrorCode error) {
    error_ = error;
    return static_cast<bool>(error);
  }
  [[noreturn]] void Fail() const {
    if (!connected_) FailConnecting();
    if (error_ == beast::error::timeout) {
      throw AskFailed("Rindwatch did not answer within " + std::to_string(timeout_.count()) +
                          " ms. It is running but busy or stuck; its log may say why.",
                      false);
    }
    throw AskFailed("Rindwatch's answer was cut off: " + error_.message() + ". Try again.", false);
  }

  [[noreturn]] void FailConnecting() const {
    if (error_ == asio::error::access_denied) {
      throw AskFailed(
          "This user may not ask Rindwatch at " + path_ + ". Ask as the user that it runs as, or with sudo.", false);
    }
    const bool nobody =
        error_ == asio::error::connection_refused || error_ == boost::system::errc::no_such_file_or_directory;
    throw AskFailed("No Rindwatch answers at " + path_ + ": " + error_.message() + ".", nobody);
  }

  const std::string path_;
  const std::chrono::milliseconds timeout_;
  Message message_;
  asio::io_context loop_{1};
  Plain<Local> stream_;
  beast::flat_buffer buffer_;
  http::response_parser<http::string_body> parser_;
  ErrorCode error_;
  bool connected_ = false;
};

}  // namespace

Response Ask(const std::string& socket_path, const Request& request, std::chrono::milliseconds timeout) {
  // Longer than the system takes: no daemon can listen there either.
  if (socket_path.empty() || socket_path.size() >= sizeof(sockaddr_un::sun_path)) {
    throw AskFailed("No Rindwatch answers at " + socket_path + ": that is no path for a socket.", true);
  }
  return Question(socket_path, request, timeout).Run();
}

}  // namespace rindwatch::web
