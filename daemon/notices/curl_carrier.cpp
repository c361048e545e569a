#include "daemon/notices/curl_carrier.hpp"

#include <curl/curl.h>

#include <atomic>
#include <chrono>
#include <utility>

#include "daemon/notices/curl_errand.hpp"

namespace rindwatch {

namespace {
// How long the loop and the store may take to say that a parcel may go; the other side waits meanwhile.
constexpr std::chrono::seconds kMayGoWithin{30};

// The loop's leave for one parcel. Shared by the lane that waits and the loop that gives it.
class Leave {
 public:
  void Give() {
    const std::lock_guard lock(mutex_);
    given_ = true;
    changed_.notify_all();
  }
  void GiveUp() {
    const std::lock_guard lock(mutex_);
    given_up_ = true;
    changed_.notify_all();
  }
  bool Await() {
    std::unique_lock lock(mutex_);
    changed_.wait_for(lock, kMayGoWithin, [this] { return given_ || given_up_; });
    // Too late: whoever gives it afterwards must not think that it goes.
    if (!given_) given_up_ = true;
    return given_ && !given_up_;
  }

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  bool given_ = false, given_up_ = false;  // guarded by mutex_
};

}  // namespace

// One thread: takes parcels one after the other, talks to the loop through `post` alone.
class CurlCarrier::Lane {
 public:
  Lane(const NoticesConfig& config, const Words& words, const Store::Post& post, std::shared_ptr<bool> alive)
      : config_(config), words_(words), post_(post), alive_(std::move(alive)), thread_([this] { Run(); }) {}
  ~Lane() {
    Stop();
    thread_.join();
  }

  void Put(Parcel parcel, std::function<void(Go)> handing, std::function<void(Outcome)> done) {
    const std::lock_guard lock(mutex_);
    waiting_.push_back({std::move(parcel), std::move(handing), std::move(done)});
    filled_.notify_one();
  }
  void Stop() {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    if (leave_) leave_->GiveUp();
    filled_.notify_one();
  }

 private:
  struct Task {
    Parcel parcel;
    std::function<void(Go)> handing;
    std::function<void(Outcome)> done;
  };

  void Run() {
    for (;;) {
      std::unique_lock lock(mutex_);
      filled_.wait(lock, [this] { return stopping_ || !waiting_.empty(); });
      if (stopping_) return;
      Task task = std::move(waiting_.front());
      waiting_.pop_front();
      leave_ = std::make_shared<Leave>();
      const auto leave = leave_;
      lock.unlock();
      const ErrandHooks hooks{[&] { return MayGo(task, leave); }, [this] { return stopping_.load(); }};
      const Outcome outcome = RunErrand(task.parcel, config_.mail, words_, hooks);
      Tell([done = std::move(task.done), outcome] { done(outcome); });
    }
  }
  bool MayGo(const Task& task, const std::shared_ptr<Leave>& leave) {
    Tell([handing = task.handing, leave] { handing([leave] { leave->Give(); }); });
    return leave->Await();
  }
  void Tell(std::function<void()> what) {
    post_([alive = alive_, what = std::move(what)] {
      if (*alive) what();
    });
  }

  const NoticesConfig& config_;
  const Words& words_;
  const Store::Post& post_;
  std::shared_ptr<bool> alive_;  // read in the loop alone
  std::mutex mutex_;
  std::condition_variable filled_;
  std::deque<Task> waiting_;      // guarded by mutex_
  std::shared_ptr<Leave> leave_;  // of what is under way; guarded by mutex_
  std::atomic<bool> stopping_ = false;
  std::thread thread_;
};

CurlCarrier::CurlCarrier(const NoticesConfig& config, const Words& words, Store::Post post)
    : config_(config), words_(words), post_(std::move(post)) {
  // Not safe beside other threads that use libcurl; nobody else does.
  curl_global_init(CURL_GLOBAL_DEFAULT);
}

CurlCarrier::~CurlCarrier() { CurlCarrier::Stop(); }

void CurlCarrier::Send(Parcel parcel, std::function<void(Go)> handing, std::function<void(Outcome)> done) {
  if (!*alive_) return;
  auto& lane = lanes_[parcel.lane];
  if (!lane) lane = std::make_unique<Lane>(config_, words_, post_, alive_);
  lane->Put(std::move(parcel), std::move(handing), std::move(done));
}

void CurlCarrier::Stop() {
  *alive_ = false;
  for (auto& [name, lane] : lanes_) lane->Stop();
  lanes_.clear();
}

}  // namespace rindwatch
