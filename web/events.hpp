// The hub of server-sent events: what is published goes to every open page, and a page that was away resumes where it
// left. Lives as long as the server; the loop's thread alone. No socket in here: a reader is a function.
#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "web/http.hpp"

namespace rindwatch::web {

class Events {  // NOLINT(cppcoreguidelines-special-member-functions): the destructor is the usual one
 public:
  // One event (or several) as bytes of the text/event-stream format, shared by all readers.
  using Frame = std::shared_ptr<const std::string>;
  using Reader = std::function<void(const Frame&)>;

  struct Options {
    // How many events are kept for pages that were away. More: a phone may be away longer without loading all again;
    // the price is memory (about 300 bytes each).
    std::size_t history = 1024;
    // No more than this is kept, however long the events are.
    std::size_t history_bytes = std::size_t{1024} * 1024;
    // Tells one run of the program from another, so that an id of the last run is never taken for one of this run.
    // The instant of the start in milliseconds will do. Letters and digits.
    std::string run = "1";
  };

  // Let go of it and the reader is called no more. May outlive the hub.
  using Subscription = std::shared_ptr<const Reader>;

  explicit Events(Options options);
  Events() : Events(Options{}) {}
  Events(const Events&) = delete;
  Events& operator=(const Events&) = delete;

  // Gives the event its id (one set by the caller is replaced), keeps it and hands it to every reader. Ids ascend:
  // "RUN-NUMBER". Line breaks in `data` are kept by the format. Returns the id.
  std::string Publish(Event event);
  // Hands it to every reader and forgets it: for what is old in a moment (the time), so that it neither fills the
  // history nor comes again to a page that was away. It has no id.
  void Pass(Event event);
  // The id of the newest event, for a state that is sent by itself: a page that asks for events after it misses none.
  std::string LastId() const;

  // The events after `after` as one frame, then everything that is published as it comes. Empty `after`: from now on.
  // If `after` is too old, or of another run, the frame holds an event `reload`: load the state anew.
  // The first frame is given to `reader` before this returns. A reader may let go of any subscription when it is
  // called, but must not publish.
  Subscription Subscribe(std::string_view after, Reader reader);

  // Open pages.
  std::size_t Readers() const;

 private:
  struct Kept {
    std::uint64_t number;
    Frame frame;
  };
  std::string IdOf(std::uint64_t number) const;
  void Hand(const Frame& frame);
  // The frame that a reader who knows `after` begins with.
  std::string CatchUp(std::string_view after) const;

  const Options options_;
  std::uint64_t last_ = 0;
  std::deque<Kept> history_;
  std::size_t history_bytes_ = 0;
  std::vector<std::weak_ptr<const Reader>> readers_;
};

}  // namespace rindwatch::web
