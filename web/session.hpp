// One client's connection: reads a request, hands it on, writes the answer, reads the next. Requests are answered in
// the order in which they came, one at a time. Lives as long as an operation of its own is pending; the loop's thread.
//
//   idle -> reading -> answering -> writing -> idle            each arrow to the right within its bound
//                \--------------------^   \-> lingering -> gone  the last answer: the other side may still be sending
//   any -> gone: cut by the list, by a deadline, or by the other side
#pragma once

#include <chrono>
#include <exception>
#include <memory>
#include <optional>
#include <sstream>
#include <string>
#include <utility>

#include "web/complaint.hpp"
#include "web/door.hpp"
#include "web/dress.hpp"
#include "web/event_stream.hpp"
#include "web/message.hpp"
#include "web/net.hpp"

namespace rindwatch::web {

template <class Stream>
class Session final : public Connection, public std::enable_shared_from_this<Session<Stream>> {
 public:
  // `list`: the door's inside for one who is served, its step for one who is turned away.
  Session(Stream&& stream, std::shared_ptr<Door> door, Connections& list, std::string peer)
      : stream_(std::move(stream)),
        timer_(stream_.get_executor()),
        door_(std::move(door)),
        list_(list),
        peer_(std::move(peer)),
        buffer_(Limits().header_bytes + kReadAhead) {
    list_.Enter(*this, peer_);
  }
  ~Session() override { list_.Leave(*this); }
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;

  void Serve() { AwaitRequest(); }
  // Says that there is no room, and goes.
  void TurnAway();

  void Cut() noexcept override;
  void Finish() noexcept override;
  std::optional<Time> IdleSince() const noexcept override {
    const bool idle = state_ == State::kIdle || state_ == State::kLingering;
    return idle ? std::optional<Time>{idle_since_} : std::nullopt;
  }

 private:
  enum class State { kIdle, kReading, kAnswering, kWriting, kLingering, kGone };
  using Parser = http::request_parser<http::string_body>;

  // What may be read beyond a header in one go.
  static constexpr std::size_t kReadAhead = std::size_t{16} * 1024;
  // How long, and how much, the rest of a request is read away after the answer that ends the connection: closing at
  // once would make the system throw the answer away with it.
  static constexpr std::chrono::seconds kLingerTime{2};
  static constexpr std::size_t kLingerBytes = std::size_t{4} * 1024 * 1024;

  Shared& All() const { return *door_->shared; }
  const Bounds& Limits() const { return All().options.bounds; }
  auto& Lowest() { return beast::get_lowest_layer(stream_); }
  template <class... Arguments>
  auto Bind(void (Session::*member)(Arguments...)) {
    return beast::bind_front_handler(member, this->shared_from_this());
  }

  void AwaitRequest();
  void OnFirstBytes(ErrorCode error, std::size_t size);
  void ReadHeader();
  void OnHeader(ErrorCode error, std::size_t size);
  void OnContinued(ErrorCode error, std::size_t size);
  void ReadBody();
  void OnRequest(ErrorCode error, std::size_t size);
  void FailReading(ErrorCode error);
  void Dispatch();
  void HandOver();
  void OnAnswer(std::uint64_t number, Response response);
  void OnNoAnswer(ErrorCode error);
  void ServeEvents();
  void BecomeEventStream();
  void Write(Response response);
  template <class Body>
  void WriteMessage(http::response<Body> message);
  void OnWritten(ErrorCode error);
  void Linger();
  void ReadAway();
  void OnReadAway(ErrorCode error, std::size_t size);

  Stream stream_;
  asio::steady_timer timer_;  // for the answer
  const std::shared_ptr<Door> door_;
  Connections& list_;
  const std::string peer_;
  beast::flat_buffer buffer_;
  std::optional<Parser> parser_;
  Request request_;
  unsigned version_ = 11;
  bool keep_alive_ = false;
  std::uint64_t number_ = 0;  // of the running request
  State state_ = State::kIdle;
  Time idle_since_{};
  std::size_t read_away_ = 0;
};

template <class Stream>
void Session<Stream>::Cut() noexcept {
  if (state_ == State::kGone) return;
  state_ = State::kGone;
  Cancel(timer_);
  CloseAtOnce(Lowest());
  list_.Leave(*this);
}

template <class Stream>
void Session<Stream>::Finish() noexcept {
  keep_alive_ = false;
  if (state_ == State::kIdle || state_ == State::kLingering) Cut();
}

template <class Stream>
void Session<Stream>::AwaitRequest() {
  if (All().stopping) return Cut();
  state_ = State::kIdle;
  idle_since_ = std::chrono::steady_clock::now();
  if (buffer_.size() > 0) return ReadHeader();
  Lowest().expires_after(Limits().idle_time);
  stream_.async_read_some(buffer_.prepare(kReadAhead), Bind(&Session::OnFirstBytes));
}

template <class Stream>
void Session<Stream>::OnFirstBytes(ErrorCode error, std::size_t size) {
  // A client that goes, or has nothing to say, is the normal end.
  if (error || state_ == State::kGone) return Cut();
  buffer_.commit(size);
  ReadHeader();
}

template <class Stream>
void Session<Stream>::ReadHeader() {
  state_ = State::kReading;
  request_ = {};
  parser_.emplace();
  parser_->header_limit(static_cast<std::uint32_t>(Limits().header_bytes));
  parser_->body_limit(Limits().body_bytes);
  Lowest().expires_after(Limits().request_time);
  http::async_read_header(stream_, buffer_, *parser_, Bind(&Session::OnHeader));
}

template <class Stream>
void Session<Stream>::OnHeader(ErrorCode error, std::size_t size) {
  // The parser holds the request line and the fields to the bound each, not together.
  if (!error && size > Limits().header_bytes) error = http::error::header_limit;
  if (error) return FailReading(error);
  if (!beast::iequals(parser_->get()[http::field::expect], "100-continue")) return ReadBody();
  static constexpr std::string_view kContinue = "HTTP/1.1 100 Continue\r\n\r\n";
  asio::async_write(stream_, asio::buffer(kContinue), Bind(&Session::OnContinued));
}

template <class Stream>
void Session<Stream>::OnContinued(ErrorCode error, std::size_t) {
  if (error) return Cut();
  ReadBody();
}

template <class Stream>
void Session<Stream>::ReadBody() {
  http::async_read(stream_, buffer_, *parser_, Bind(&Session::OnRequest));
}

template <class Stream>
void Session<Stream>::OnRequest(ErrorCode error, std::size_t) {
  if (error) return FailReading(error);
  Dispatch();
}

template <class Stream>
void Session<Stream>::FailReading(ErrorCode error) {
  if (state_ == State::kGone) return;
  if (error == beast::error::timeout) {
    ++All().figures.cut;
    return Cut();
  }
  const Bounds& bounds = Limits();
  keep_alive_ = false;
  if (error == http::error::header_limit || error == http::error::buffer_overflow) {
    return Write(
        Complain(431, {"The request's head is too long.", std::to_string(bounds.header_bytes) + " bytes at most",
                       "more", "Send fewer or shorter headers; clearing this site's cookies may help."}));
  }
  if (error == http::error::body_limit) {
    return Write(Complain(413, {"What was sent is too long.", std::to_string(bounds.body_bytes) + " bytes at most",
                                "more", "Send less at a time."}));
  }
  const bool broken_off = error == http::error::end_of_stream || error == http::error::partial_message;
  if (broken_off || error.category() != http::make_error_code(http::error::bad_method).category()) return Cut();
  Write(Complain(400,
                 {"The request cannot be read as HTTP.", "HTTP/1.1", error.message(), "Send a well-formed request."}));
}

template <class Stream>
void Session<Stream>::Dispatch() {
  if (state_ == State::kGone) return;
  if (All().gone) return Cut();
  http::request<http::string_body> message = parser_->release();
  parser_.reset();
  version_ = message.version();
  keep_alive_ = message.keep_alive() && !All().stopping;
  std::optional<Request> request = ToRequest(std::move(message), peer_);
  if (!request) {
    keep_alive_ = false;
    return Write(
        Complain(400, {"The request's address or Host header cannot be read.",
                       "a path such as /api/round and one Host header", "something else", "Check the address."}));
  }
  request_ = std::move(*request);
  if (door_->gated) {
    if (auto refused = All().gate.Refuse(request_)) return Write(std::move(*refused));
  }
  request_.keeper = All().visitor->KeeperOf(request_);
  if (request_.path == All().options.events_path) return ServeEvents();
  HandOver();
}

template <class Stream>
void Session<Stream>::HandOver() {
  state_ = State::kAnswering;
  const std::uint64_t number = ++number_;
  timer_.expires_after(Limits().answer_time);
  timer_.async_wait(Bind(&Session::OnNoAnswer));
  const std::weak_ptr<Session> weak = this->weak_from_this();
  try {
    All().handler(request_, [weak, number](Response response) {
      if (const auto self = weak.lock()) self->OnAnswer(number, std::move(response));
    });
  } catch (const std::exception& broken) {
    All().Log(request_.method + " " + request_.path + " failed: " + broken.what());
    OnAnswer(number, Complain(500, {"This could not be answered because of a fault in the program.", "", broken.what(),
                                    "Try again; if it stays, report it with the lines of the log."}));
  }
}

template <class Stream>
void Session<Stream>::OnAnswer(std::uint64_t number, Response response) {
  // A second answer, or one after the deadline, has nobody to go to.
  if (state_ != State::kAnswering || number != number_) return;
  Cancel(timer_);
  Write(std::move(response));
}

template <class Stream>
void Session<Stream>::OnNoAnswer(ErrorCode error) {
  if (error || state_ != State::kAnswering) return;
  ++All().figures.cut;
  All().Log(request_.method + " " + request_.path + " was not answered in time");
  keep_alive_ = false;
  Write(Complain(504, {"The answer took too long; what was sent may or may not have been kept.", "an answer in time",
                       "none", "Send the same again: it counts once."}));
}

template <class Stream>
void Session<Stream>::ServeEvents() {
  if (request_.method == "GET") return BecomeEventStream();
  if (request_.method == "HEAD") return Write({.content_type = "text/event-stream"});
  Response refused =
      Complain(405, {"Events can only be listened to.", "GET", request_.method, "Send changes to another address."});
  refused.headers["Allow"] = "GET, HEAD";
  Write(std::move(refused));
}

template <class Stream>
void Session<Stream>::BecomeEventStream() {
  std::string after(request_.Header("last-event-id"));
  if (after.empty()) after = request_.Query("after");
  Response response;
  response.content_type = "text/event-stream";
  response.headers["X-Accel-Buffering"] = "no";  // a proxy before us passes events on as they come
  Dress(request_, response);
  // The body ends with the connection, so it has no length.
  auto message = ToMessage<http::empty_body>(response, version_, false);
  message.erase(http::field::content_length);
  std::ostringstream head;
  head << message.base();
  ++All().figures.requests;
  state_ = State::kGone;  // the stream, and with it the connection, is no longer ours
  std::make_shared<EventStream<Stream>>(std::move(stream_), door_, peer_)->Run(head.str(), after);
}

template <class Stream>
void Session<Stream>::TurnAway() {
  ++All().figures.refused;
  Write(Complain(503, {"Too many pages or programs are connected.",
                       std::to_string(Limits().clients) + " at most, " + std::to_string(Limits().clients_per_address) +
                           " from one address",
                       "more", "Close some and try again in a minute."}));
}

template <class Stream>
void Session<Stream>::Write(Response response) {
  state_ = State::kWriting;
  keep_alive_ = keep_alive_ && !All().stopping;
  ++All().figures.requests;
  if (response.status >= 500) ++All().figures.server_errors;
  if (response.status == 503) response.headers.emplace("Retry-After", "30");
  Dress(request_, response);
  Lowest().expires_after(Limits().request_time);
  if (request_.method == "HEAD" || !HasBody(response.status)) {
    return WriteMessage(ToMessage<http::empty_body>(response, version_, keep_alive_));
  }
  auto message = ToMessage<http::string_body>(response, version_, keep_alive_);
  message.body() = std::move(response.body);
  WriteMessage(std::move(message));
}

template <class Stream>
template <class Body>
void Session<Stream>::WriteMessage(http::response<Body> message) {
  const auto held = std::make_shared<http::response<Body>>(std::move(message));
  http::async_write(stream_, *held,
                    [self = this->shared_from_this(), held](ErrorCode error, std::size_t) { self->OnWritten(error); });
}

template <class Stream>
void Session<Stream>::OnWritten(ErrorCode error) {
  if (error == beast::error::timeout) ++All().figures.cut;
  if (error || state_ == State::kGone) return Cut();
  if (keep_alive_) return AwaitRequest();
  Linger();
}

template <class Stream>
void Session<Stream>::Linger() {
  state_ = State::kLingering;
  idle_since_ = std::chrono::steady_clock::now();
  EndSending(stream_);
  buffer_.clear();
  Lowest().expires_after(kLingerTime);
  ReadAway();
}

template <class Stream>
void Session<Stream>::ReadAway() {
  stream_.async_read_some(buffer_.prepare(kReadAhead), Bind(&Session::OnReadAway));
}

template <class Stream>
void Session<Stream>::OnReadAway(ErrorCode error, std::size_t size) {
  read_away_ += size;
  if (error || state_ == State::kGone || read_away_ > kLingerBytes) return Cut();
  ReadAway();
}

}  // namespace rindwatch::web
