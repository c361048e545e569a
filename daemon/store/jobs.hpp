// What waits for the writer: things to write, and questions that are answered in their place between the writes.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "daemon/store/store.hpp"
#include "daemon/store/waiting_batch.hpp"

namespace rindwatch {

struct KeepJob {
  std::shared_ptr<WaitingBatch> waiting;
};
struct AppendJob {
  JournalLine line;
  std::vector<Fact> facts;
  std::function<void(AppendResult)> done;
};
struct SaveJob {
  Snapshot snapshot;
  std::function<void(bool)> done;
};
struct NoticeJob {
  std::vector<NoticeRow> rows;
  std::function<void(std::vector<std::int64_t>)> done;
};
struct FindJob {
  std::string id;
  std::function<void(std::optional<JournalLine>)> done;
};
struct TickJob {};
struct PingJob {
  std::function<void()> done;
};
struct TryJob {
  std::function<void(bool)> done;
};

using Job = std::variant<KeepJob, AppendJob, SaveJob, NoticeJob, FindJob, TickJob, PingJob, TryJob>;

// These fill the queue; questions always pass.
inline bool IsWrite(const Job& job) {
  return std::holds_alternative<KeepJob>(job) || std::holds_alternative<AppendJob>(job);
}

}  // namespace rindwatch
