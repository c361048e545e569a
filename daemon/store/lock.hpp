// One writer, ever: held while a process writes a database; the kernel gives it back when the process ends, however
// it ends.
#pragma once

#include <string>

namespace rindwatch {

class FileLock {
 public:
  // Takes the lock on `path` (made if missing). Throws StoreError that names the process that holds it, and what to
  // do. `database` is for the sentence.
  FileLock(const std::string& path, const std::string& database);
  ~FileLock();
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;

 private:
  int file_ = -1;
};

}  // namespace rindwatch
