#include "daemon/store/lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

#include "daemon/store/store.hpp"

namespace rindwatch {
namespace {

// The digits that the holder wrote; empty if it has not yet.
std::string ReadHolder(int file) {
  std::array<char, 24> bytes{};
  const ssize_t size = pread(file, bytes.data(), bytes.size(), 0);
  std::string digits;
  for (ssize_t i = 0;
       i < size && bytes[static_cast<std::size_t>(i)] >= '0' && bytes[static_cast<std::size_t>(i)] <= '9'; ++i)
    digits += bytes[static_cast<std::size_t>(i)];
  return digits;
}

// The number is for people alone: the lock holds without it, so a failed write is no error.
void WriteHolder(int file) {
  const std::string digits = std::to_string(getpid()) + "\n";
  if (ftruncate(file, 0) != 0) return;
  [[maybe_unused]] const ssize_t written = pwrite(file, digits.data(), digits.size(), 0);
}

// errno after open or flock.
StoreError MakeError(int error, const std::string& path, const std::string& database, const std::string& holder) {
  switch (error) {
    case EWOULDBLOCK:
      return StoreError(database + " is already being written by process " + (holder.empty() ? "(unknown)" : holder) +
                        ": stop that rindwatch first, or name another database.");
    case ENOENT:
    case ENOTDIR:
      return StoreError("The folder of " + database + " does not exist: create it, or name another database.");
    case EACCES:
    case EROFS:
    case EPERM:
      return StoreError(path + " may not be written: give the folder to the user that runs rindwatch.");
    case ENOSPC:
      return StoreError("The disk that holds " + database + " is full: make room on it and start again.");
    default:
      return StoreError("The lock " + path + " cannot be taken (" + std::generic_category().message(error) +
                        "): see that it lies on a local disk.");
  }
}

}  // namespace

FileLock::FileLock(const std::string& path, const std::string& database) {
  file_ = open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
  if (file_ < 0) throw MakeError(errno, path, database, "");
  if (flock(file_, LOCK_EX | LOCK_NB) != 0) {
    const StoreError error = MakeError(errno, path, database, ReadHolder(file_));
    close(file_);
    throw error;
  }
  WriteHolder(file_);
}

// The file stays: removing it would let two processes lock two files of the same name.
FileLock::~FileLock() { close(file_); }

}  // namespace rindwatch
