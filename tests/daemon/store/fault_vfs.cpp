#include "tests/daemon/store/fault_vfs.hpp"

#include <cstring>
#include <filesystem>
#include <fstream>
#include <new>

namespace rindwatch::testing {
namespace {

constexpr std::size_t kSector = 512;

// Lies before the real file's own memory.
struct File {
  sqlite3_file base;
  FaultVfs* vfs;
  std::string* path;  // null: not recorded
  sqlite3_file* real;
};

File* Ours(sqlite3_file* file) { return reinterpret_cast<File*>(file); }
sqlite3_file* Real(sqlite3_file* file) { return Ours(file)->real; }

int Close(sqlite3_file* file) {
  delete Ours(file)->path;
  return Real(file)->pMethods->xClose(Real(file));
}
int Read(sqlite3_file* file, void* bytes, int size, sqlite3_int64 offset) {
  return Real(file)->pMethods->xRead(Real(file), bytes, size, offset);
}
int Write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 offset) {
  if (Ours(file)->path != nullptr) {
    sqlite3_int64 file_size = 0;
    Real(file)->pMethods->xFileSize(Real(file), &file_size);
    const int code = Ours(file)->vfs->OnWrite(*Ours(file)->path, bytes, size, offset, file_size);
    if (code != SQLITE_OK) return code;
  }
  return Real(file)->pMethods->xWrite(Real(file), bytes, size, offset);
}
int Truncate(sqlite3_file* file, sqlite3_int64 size) {
  if (Ours(file)->path != nullptr) Ours(file)->vfs->OnTruncate(*Ours(file)->path, size);
  return Real(file)->pMethods->xTruncate(Real(file), size);
}
// The test's disk lies in memory: a real sync would only cost time.
int Sync(sqlite3_file* file, int) {
  return Ours(file)->path != nullptr ? Ours(file)->vfs->OnSync(*Ours(file)->path) : SQLITE_OK;
}
int FileSize(sqlite3_file* file, sqlite3_int64* size) { return Real(file)->pMethods->xFileSize(Real(file), size); }
int Lock(sqlite3_file* file, int level) { return Real(file)->pMethods->xLock(Real(file), level); }
int Unlock(sqlite3_file* file, int level) { return Real(file)->pMethods->xUnlock(Real(file), level); }
int CheckReserved(sqlite3_file* file, int* answer) {
  return Real(file)->pMethods->xCheckReservedLock(Real(file), answer);
}
int Control(sqlite3_file* file, int op, void* argument) {
  // The size hint would let the real file grow past us.
  if (op == SQLITE_FCNTL_SIZE_HINT) return SQLITE_OK;
  return Real(file)->pMethods->xFileControl(Real(file), op, argument);
}
int SectorSize(sqlite3_file* file) { return Real(file)->pMethods->xSectorSize(Real(file)); }
int Characteristics(sqlite3_file* file) { return Real(file)->pMethods->xDeviceCharacteristics(Real(file)); }
int ShmMap(sqlite3_file* file, int page, int size, int extend, void volatile** memory) {
  return Real(file)->pMethods->xShmMap(Real(file), page, size, extend, memory);
}
int ShmLock(sqlite3_file* file, int offset, int count, int flags) {
  return Real(file)->pMethods->xShmLock(Real(file), offset, count, flags);
}
void ShmBarrier(sqlite3_file* file) { Real(file)->pMethods->xShmBarrier(Real(file)); }
int ShmUnmap(sqlite3_file* file, int remove) { return Real(file)->pMethods->xShmUnmap(Real(file), remove); }

const sqlite3_io_methods kMethods{
    2,        Close,         Read,    Write,      Truncate,        Sync,   FileSize, Lock,
    Unlock,   CheckReserved, Control, SectorSize, Characteristics, ShmMap, ShmLock,  ShmBarrier,
    ShmUnmap, nullptr,       nullptr};

FaultVfs* Owner(sqlite3_vfs* vfs) { return static_cast<FaultVfs*>(vfs->pAppData); }

sqlite3_vfs* real_vfs = nullptr;

int Open(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags, int* out_flags) {
  File* ours = Ours(file);
  ours->vfs = Owner(vfs);
  ours->real = reinterpret_cast<sqlite3_file*>(ours + 1);
  const bool recorded = name != nullptr && (flags & (SQLITE_OPEN_MAIN_DB | SQLITE_OPEN_WAL | SQLITE_OPEN_MAIN_JOURNAL));
  const int code = real_vfs->xOpen(real_vfs, name, ours->real, flags, out_flags);
  ours->path = code == SQLITE_OK && recorded ? new std::string(name) : nullptr;
  ours->base.pMethods = code == SQLITE_OK ? &kMethods : nullptr;
  return code;
}
int Delete(sqlite3_vfs* vfs, const char* name, int sync_folder) {
  Owner(vfs)->OnDelete(name);
  return real_vfs->xDelete(real_vfs, name, sync_folder);
}

void Apply(std::string& content, const FaultVfs::Change& change, std::size_t from, std::size_t size) {
  const auto offset = static_cast<std::size_t>(change.offset) + from;
  if (content.size() < offset + size) content.resize(offset + size, '\0');
  std::memcpy(content.data() + offset, change.bytes.data() + from, size);
}

void ApplyWhole(std::string& content, const FaultVfs::Change& change) {
  if (change.truncates)
    content.resize(static_cast<std::size_t>(change.offset), '\0');
  else
    Apply(content, change, 0, change.bytes.size());
}

// Sector by sector: arrived, not arrived, or torn.
void ApplyPart(std::string& content, const FaultVfs::Change& change, std::mt19937& random) {
  if (change.truncates) {
    if (random() % 2 == 0) ApplyWhole(content, change);
    return;
  }
  for (std::size_t from = 0; from < change.bytes.size(); from += kSector) {
    const std::size_t size = std::min(kSector, change.bytes.size() - from);
    switch (random() % 8) {
      case 0:
        Apply(content, change, from, random() % (size + 1));
        break;
      case 1:
      case 2:
      case 3:
        break;
      default:
        Apply(content, change, from, size);
    }
  }
}

}  // namespace

FaultVfs::FaultVfs() {
  real_ = real_vfs = sqlite3_vfs_find(nullptr);
  vfs_ = *real_;
  vfs_.zName = "faults";
  vfs_.pNext = nullptr;
  vfs_.pAppData = this;
  vfs_.szOsFile = static_cast<int>(sizeof(File)) + real_->szOsFile;
  vfs_.xOpen = Open;
  vfs_.xDelete = Delete;
  // The rest looks at its own pAppData and so must be called with the real one.
  vfs_.xAccess = [](sqlite3_vfs*, const char* name, int flags, int* answer) {
    return real_vfs->xAccess(real_vfs, name, flags, answer);
  };
  vfs_.xFullPathname = [](sqlite3_vfs*, const char* name, int size, char* out) {
    return real_vfs->xFullPathname(real_vfs, name, size, out);
  };
  sqlite3_vfs_register(&vfs_, 1);
}

FaultVfs::~FaultVfs() {
  sqlite3_vfs_unregister(&vfs_);
  sqlite3_vfs_register(real_, 1);
}

void FaultVfs::SetFull(bool full) {
  const std::lock_guard lock(mutex_);
  full_ = full;
}
void FaultVfs::SetSyncFails(bool fails) {
  const std::lock_guard lock(mutex_);
  sync_fails_ = fails;
}
void FaultVfs::SetSyncLies(bool lies) {
  const std::lock_guard lock(mutex_);
  sync_lies_ = lies;
}
void FaultVfs::SetOnWrite(std::function<void()> on_write) {
  const std::lock_guard lock(mutex_);
  on_write_ = std::move(on_write);
}
void FaultVfs::CutAt(long operation) {
  const std::lock_guard lock(mutex_);
  cut_at_ = operation;
}
bool FaultVfs::Cut() const {
  const std::lock_guard lock(mutex_);
  return cut_;
}

// Under the mutex.
void FaultVfs::Count() {
  if (++operations_ != cut_at_) return;
  cut_ = true;
  at_cut_ = disks_;
}

int FaultVfs::OnWrite(const std::string& path, const void* bytes, int size, sqlite3_int64 offset,
                      sqlite3_int64 file_size) {
  std::unique_lock lock(mutex_);
  if (on_write_) {
    const auto on_write = on_write_;
    lock.unlock();
    on_write();
    lock.lock();
  }
  if (full_ && offset + size > file_size) return SQLITE_FULL;
  disks_[path].pending.push_back(
      {offset, std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(size)), false});
  Count();  // the write itself is under way: it may arrive in part
  return SQLITE_OK;
}

void FaultVfs::OnTruncate(const std::string& path, sqlite3_int64 size) {
  const std::lock_guard lock(mutex_);
  disks_[path].pending.push_back({size, "", true});
  Count();
}

int FaultVfs::OnSync(const std::string& path) {
  const std::lock_guard lock(mutex_);
  Count();
  if (sync_fails_) return SQLITE_IOERR_FSYNC;
  if (sync_lies_) return SQLITE_OK;
  Disk& disk = disks_[path];
  for (const Change& change : disk.pending) ApplyWhole(disk.durable, change);
  disk.pending.clear();
  disk.reached = true;
  return SQLITE_OK;
}

void FaultVfs::OnDelete(const std::string& path) {
  const std::lock_guard lock(mutex_);
  disks_.erase(path);
}

void FaultVfs::WriteImage(const std::string& folder, std::mt19937& random) const {
  const std::lock_guard lock(mutex_);
  for (const auto& [path, disk] : at_cut_) {
    if (!disk.reached && random() % 2 == 0) continue;  // the folder never heard of it
    std::string content = disk.durable;
    for (const Change& change : disk.pending) ApplyPart(content, change, random);
    const auto name = std::filesystem::path(path).filename();
    std::ofstream(std::filesystem::path(folder) / name, std::ios::binary) << content;
  }
}

}  // namespace rindwatch::testing
