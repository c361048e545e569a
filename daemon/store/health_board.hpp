// How the store is: written by the writer, read from any thread.
#pragma once

#include <mutex>
#include <string>

#include "daemon/store/store.hpp"

namespace rindwatch {

class HealthBoard {
 public:
  void OnKept(std::int64_t readings, std::int64_t lines);
  void OnWriting();
  // `why` is a whole sentence; it stays until a write succeeds.
  void OnFailed(const std::string& why);
  void OnRefused(std::int64_t count = 1);
  void OnSize(std::int64_t bytes);

  StoreHealth Read() const;  // `queued` is left to the caller
  std::string Why() const;

 private:
  mutable std::mutex mutex_;
  StoreHealth health_;  // guarded by mutex_
};

}  // namespace rindwatch
