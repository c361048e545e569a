#include "sensors/mqtt/backlog_gate.hpp"

#include "tests/catch.hpp"

using rindwatch::sensors::BacklogGate;
using std::chrono::milliseconds;
using std::chrono::seconds;

namespace {

const BacklogGate::Time kUp{seconds{100}};

BacklogGate Connected(bool present) {
  BacklogGate gate(seconds{10});
  gate.OnConnecting();
  gate.OnSession(present, kUp);
  return gate;
}

}  // namespace

TEST_CASE("before the session is known, what comes is backlog") {
  BacklogGate gate(seconds{10});
  CHECK(gate.IsBacklog(kUp));
  gate.OnSession(false, kUp);
  CHECK_FALSE(gate.IsBacklog(kUp));
  gate.OnConnecting();
  CHECK(gate.IsBacklog(kUp));
}

TEST_CASE("without a session nothing can have waited") {
  auto gate = Connected(false);
  CHECK_FALSE(gate.IsBacklog(kUp));
}

TEST_CASE("what comes before the marker is backlog, what comes after it is not") {
  auto gate = Connected(true);
  CHECK(gate.IsBacklog(kUp + seconds{1}));
  gate.OnMarker();
  CHECK_FALSE(gate.IsBacklog(kUp + seconds{1}));
}

TEST_CASE("without a marker the first pause after its time ends the backlog") {
  auto gate = Connected(true);
  SECTION("a pause before its time does not") { CHECK(gate.IsBacklog(kUp + seconds{10} - milliseconds{1})); }
  SECTION("no pause, no end") {
    gate.OnHandled(kUp + seconds{10});
    CHECK(gate.IsBacklog(kUp + seconds{10} + milliseconds{499}));
    // The time that a Keep took is no pause.
    gate.OnHandled(kUp + seconds{29});
    CHECK(gate.IsBacklog(kUp + seconds{29} + milliseconds{10}));
  }
  SECTION("a pause ends it for good") {
    gate.OnHandled(kUp + seconds{12});
    CHECK_FALSE(gate.IsBacklog(kUp + seconds{12} + milliseconds{500}));
    CHECK_FALSE(gate.IsBacklog(kUp + seconds{12} + milliseconds{501}));
  }
}

TEST_CASE("after two minutes nothing is backlog any more") {
  auto gate = Connected(true);
  gate.OnHandled(kUp + seconds{120} - milliseconds{1});
  CHECK(gate.IsBacklog(kUp + seconds{120} - milliseconds{1}));
  CHECK_FALSE(gate.IsBacklog(kUp + seconds{120}));
}
