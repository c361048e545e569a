// Tells what the broker had queued while nobody was connected from what comes live. No thread, no clock.
//
// Once connected to a session that the broker still had, a marker of our own is published: it stands in the broker's
// queue behind all that waited there, so whatever comes before it is backlog. Where the marker never comes back (an
// access list may forbid it), the backlog counts as over when, `marker` after the connection, half a second passed
// between two messages, or two minutes after the connection in any case: a queue that is being emptied sends without
// a pause. Counting a live message as backlog loses a judgement for a moment; the reverse would judge an old value.
#pragma once

#include <chrono>

namespace rindwatch::sensors {

class BacklogGate {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::milliseconds kPause{500};
  static constexpr std::chrono::milliseconds kLongest{120'000};

  explicit BacklogGate(std::chrono::milliseconds marker) : marker_(marker) {}

  // A connection is being made: messages may come before we hear whether there is a session.
  void OnConnecting() {
    emptying_ = true;
    session_known_ = false;
  }
  // `present`: the broker had kept our session, so something may have waited in it.
  void OnSession(bool present, Time now);
  // Our marker of this connection came back.
  void OnMarker() { emptying_ = false; }
  // Whether the message that came at `now` is backlog.
  bool IsBacklog(Time now);
  // The message was dealt with; the time that we took for it is no pause of the broker's.
  void OnHandled(Time now) { last_handled_ = now; }

 private:
  std::chrono::milliseconds marker_;
  bool emptying_ = true;
  bool session_known_ = false;
  Time connected_;
  Time last_handled_;
};

}  // namespace rindwatch::sensors
