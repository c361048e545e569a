#include "sensors/mqtt/connect_turn.hpp"

#include "tests/catch.hpp"

using rindwatch::sensors::ConnectTurn;
using std::chrono::milliseconds;
using std::chrono::seconds;

TEST_CASE("the turn to connect is one's alone until it is given back") {
  ConnectTurn other;
  {
    ConnectTurn turn;
    REQUIRE(turn.TakeWithin(seconds{20}));
    CHECK_FALSE(other.TakeWithin(milliseconds{1}));
  }
  CHECK(other.TakeWithin(seconds{20}));
}

TEST_CASE("whoever never had the turn gives nothing back") {
  ConnectTurn turn;
  REQUIRE(turn.TakeWithin(seconds{20}));
  {
    ConnectTurn impatient;
    CHECK_FALSE(impatient.TakeWithin(milliseconds{1}));
  }
  ConnectTurn other;
  CHECK_FALSE(other.TakeWithin(milliseconds{1}));
}
