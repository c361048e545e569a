// A file system for SQLite that can fail: it refuses to grow, refuses to sync, and remembers what was not synced, so
// that the disk as a power cut leaves it can be written out. While it lives every database opens through it.
#pragma once

#include <sqlite3.h>

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <random>
#include <string>
#include <vector>

namespace rindwatch::testing {

class FaultVfs {
 public:
  FaultVfs();
  ~FaultVfs();
  FaultVfs(const FaultVfs&) = delete;
  FaultVfs& operator=(const FaultVfs&) = delete;

  // ---- what it does to the database ----
  void SetFull(bool full);        // no file grows
  void SetSyncFails(bool fails);  // every sync ends in an error
  void SetSyncLies(bool lies);    // every sync says yes and does nothing: the control
  // Called before each write, in the writing thread.
  void SetOnWrite(std::function<void()> on_write);

  // ---- power cuts ----
  // The power fails just before the operation of this number (writes, truncations and syncs count, from 1).
  void CutAt(long operation);
  bool Cut() const;
  // The files as a disk may hold them after the cut, by their names in `folder`: of what was not synced, any sector
  // may have arrived or not or in part.
  void WriteImage(const std::string& folder, std::mt19937& random) const;

  // ---- for the file methods ----
  struct Change {
    sqlite3_int64 offset = 0;  // with bytes
    std::string bytes;
    bool truncates = false;  // to `offset`
  };
  struct Disk {            // of one file
    bool reached = false;  // its name is on the disk
    std::string durable;
    std::vector<Change> pending;
  };
  int OnWrite(const std::string& path, const void* bytes, int size, sqlite3_int64 offset, sqlite3_int64 file_size);
  void OnTruncate(const std::string& path, sqlite3_int64 size);
  int OnSync(const std::string& path);
  void OnDelete(const std::string& path);

 private:
  void Count();

  sqlite3_vfs vfs_{};
  sqlite3_vfs* real_ = nullptr;
  mutable std::mutex mutex_;
  std::function<void()> on_write_;
  bool full_ = false, sync_fails_ = false, sync_lies_ = false;
  long operations_ = 0, cut_at_ = 0;
  std::map<std::string, Disk> disks_;  // by path
  std::map<std::string, Disk> at_cut_;
  bool cut_ = false;
};

}  // namespace rindwatch::testing
