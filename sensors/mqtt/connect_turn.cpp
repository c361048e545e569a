#include "sensors/mqtt/connect_turn.hpp"

#include <condition_variable>
#include <mutex>

namespace rindwatch::sensors {
namespace {

// One for the process, as the library's own state is.
struct Turn {
  std::mutex mutex;
  std::condition_variable given_back;
  bool taken = false;  // guarded by mutex
};
Turn& TheTurn() {
  static Turn turn;
  return turn;
}

}  // namespace

ConnectTurn::~ConnectTurn() {
  if (!mine_) return;
  Turn& turn = TheTurn();
  const std::scoped_lock lock(turn.mutex);
  turn.taken = false;
  turn.given_back.notify_one();
}

bool ConnectTurn::TakeWithin(std::chrono::milliseconds most) {
  Turn& turn = TheTurn();
  std::unique_lock lock(turn.mutex);
  mine_ = turn.given_back.wait_for(lock, most, [&turn] { return !turn.taken; });
  if (mine_) turn.taken = true;
  return mine_;
}

}  // namespace rindwatch::sensors
