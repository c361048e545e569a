// An open page that listens: takes over a session's stream and writes events to it until either side ends it. One write
// is in flight; what comes meanwhile waits in a bounded queue; a page that does not keep up is cut and resumes.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "web/door.hpp"
#include "web/net.hpp"

namespace rindwatch::web {

template <class Stream>
class EventStream final : public Connection, public std::enable_shared_from_this<EventStream<Stream>> {
 public:
  EventStream(Stream&& stream, std::shared_ptr<Door> door, const std::string& peer)
      : stream_(std::move(stream)), timer_(stream_.get_executor()), door_(std::move(door)) {
    door_->inside.Enter(*this, peer);
    ++door_->shared->figures.event_streams;
  }
  ~EventStream() override { End(); }
  EventStream(const EventStream&) = delete;
  EventStream& operator=(const EventStream&) = delete;

  // `head`: the bytes of the answer's head. `after`: the last event that the page knows; empty if none.
  void Run(std::string head, const std::string& after) {
    beast::get_lowest_layer(stream_).expires_never();
    WatchPeer();
    queue_.push_back(std::make_shared<const std::string>(std::move(head)));
    const std::weak_ptr<EventStream> weak = this->weak_from_this();
    subscription_ = door_->shared->events->Subscribe(after, [weak](const Events::Frame& frame) {
      if (const auto self = weak.lock()) self->Send(frame);
    });
    WaitForHeartbeat();
  }

  void Cut() noexcept override { End(); }
  void Finish() noexcept override { End(); }
  // Listening is work.
  std::optional<Time> IdleSince() const noexcept override { return std::nullopt; }

 private:
  const Bounds& Limits() const { return door_->shared->options.bounds; }

  void End() noexcept {
    if (ended_) return;
    ended_ = true;
    --door_->shared->figures.event_streams;
    subscription_.reset();
    Cancel(timer_);
    CloseAtOnce(beast::get_lowest_layer(stream_));
    door_->inside.Leave(*this);
  }

  // A bound of ours ended it.
  void GiveUp() noexcept {
    if (!ended_) ++door_->shared->figures.cut;
    End();
  }

  // A page has nothing to say here; what is read is only its going away.
  void WatchPeer() {
    stream_.async_read_some(asio::buffer(ignored_),
                            beast::bind_front_handler(&EventStream::OnPeer, this->shared_from_this()));
  }

  void OnPeer(ErrorCode error, std::size_t) {
    if (error || ++heard_ > kMostHeard) return End();
    WatchPeer();
  }

  void Send(const Events::Frame& frame) {
    if (ended_) return;
    const bool writing = !in_flight_.empty();
    if (writing && queued_bytes_ + frame->size() > Limits().queue_bytes) return GiveUp();
    queue_.push_back(frame);
    queued_bytes_ += frame->size();
    if (!writing) Write();
  }

  // Everything that waits goes out together.
  void Write() {
    in_flight_ = std::exchange(queue_, {});
    queued_bytes_ = 0;
    std::vector<asio::const_buffer> buffers;
    buffers.reserve(in_flight_.size());
    for (const Events::Frame& frame : in_flight_) buffers.emplace_back(asio::buffer(*frame));
    // The read that is pending keeps having no deadline: only the next operation gets one.
    beast::get_lowest_layer(stream_).expires_after(Limits().request_time);
    asio::async_write(stream_, buffers, beast::bind_front_handler(&EventStream::OnWritten, this->shared_from_this()));
  }

  void OnWritten(ErrorCode error, std::size_t) {
    in_flight_.clear();
    if (error == beast::error::timeout) return GiveUp();
    if (error) return End();
    if (!queue_.empty() && !ended_) Write();
  }

  void WaitForHeartbeat() {
    timer_.expires_after(Limits().heartbeat);
    timer_.async_wait(beast::bind_front_handler(&EventStream::OnHeartbeat, this->shared_from_this()));
  }

  void OnHeartbeat(ErrorCode error) {
    if (error || ended_) return;
    // What is on its way shows that the connection lives, or will run into its deadline.
    if (in_flight_.empty()) Send(std::make_shared<const std::string>(":\n\n"));
    WaitForHeartbeat();
  }

  // More than this many pieces from a page that should be silent, and it is cut.
  static constexpr int kMostHeard = 16;

  Stream stream_;
  asio::steady_timer timer_;
  const std::shared_ptr<Door> door_;
  Events::Subscription subscription_;
  std::vector<Events::Frame> in_flight_;  // being written
  std::vector<Events::Frame> queue_;      // waits for it
  std::size_t queued_bytes_ = 0;
  std::array<char, 256> ignored_{};
  int heard_ = 0;
  bool ended_ = false;
};

}  // namespace rindwatch::web
