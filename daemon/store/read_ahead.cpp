#include "daemon/store/read_ahead.hpp"

#include <array>
#include <atomic>
#include <exception>
#include <semaphore>
#include <thread>
#include <vector>

namespace rindwatch {
namespace {

constexpr std::size_t kBatch = 1024;

// What was filled before is filled again, so that its memory serves for all the years.
struct Batch {
  std::vector<Committed> inputs{kBatch};
  std::size_t count = 0;
  bool last = false;
};

// Two batches that go to and fro between a thread that fills them and one that empties them.
class Ferry {
 public:
  explicit Ferry(const std::function<void(const VisitInput&)>& read) : thread_([this, &read] { Fill(read); }) {}
  ~Ferry() {
    stop_ = true;
    empty_.release();
    thread_.join();
  }
  Ferry(const Ferry&) = delete;
  Ferry& operator=(const Ferry&) = delete;

  void Empty(const VisitInput& visit) {
    for (std::size_t turn = 0;; turn ^= 1) {
      full_.acquire();
      const Batch& batch = batches_[turn];
      for (std::size_t i = 0; i < batch.count; ++i) {
        if (!visit(batch.inputs[i])) return;
      }
      if (batch.last) break;
      empty_.release();
    }
    if (error_) std::rethrow_exception(error_);
  }

 private:
  void Fill(const std::function<void(const VisitInput&)>& read) {
    try {
      read([this](const Committed& input) {
        if (batches_[turn_].count == kBatch && !HandOver()) return false;
        Batch& batch = batches_[turn_];
        batch.inputs[batch.count++] = input;
        return true;
      });
    } catch (...) {
      error_ = std::current_exception();
    }
    batches_[turn_].last = true;
    full_.release();
  }

  // False when nobody visits any more.
  bool HandOver() {
    full_.release();
    empty_.acquire();
    if (stop_) return false;
    turn_ ^= 1;
    batches_[turn_].count = 0;
    return true;
  }

  std::array<Batch, 2> batches_;
  std::size_t turn_ = 0;  // the one being filled
  std::exception_ptr error_;
  std::counting_semaphore<3> full_{0};   // batches to visit
  std::counting_semaphore<3> empty_{1};  // batches to fill beside the one being filled
  std::atomic<bool> stop_ = false;
  std::thread thread_;  // the last: it uses the others
};

}  // namespace

void ReadAhead(const std::function<void(const VisitInput&)>& read, const VisitInput& visit) {
  Ferry(read).Empty(visit);
}

}  // namespace rindwatch
