// Doubles and helpers for the store's tests: a folder of its own, a clock that stands, a loop that is run by hand.
#pragma once

#include <sqlite3.h>

#include <atomic>
#include <condition_variable>
#include <deque>
#include <filesystem>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "daemon/store/store.hpp"
#include "tests/catch.hpp"

namespace rindwatch::testing {

// Matches a text that holds `part`; Catch2 3 calls it otherwise.
inline auto Says(const std::string& part) {
#if __has_include(<catch2/catch_all.hpp>)
  return Catch::Matchers::ContainsSubstring(part);
#else
  return Catch::Matchers::Contains(part);
#endif
}

class TempFolder {
 public:
  TempFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "rindwatch-store-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~TempFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  std::string operator/(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

// Stands where it is put; may be put back, as a wall clock may.
class StandingClock : public rules::Clock {
 public:
  rules::Instant Wall() const override { return rules::FromMillis(wall); }
  rules::Millis Monotonic() const override { return rules::Millis{wall}; }
  std::atomic<std::int64_t> wall{1'700'000'000'000};
};

// The loop: functions are posted from any thread and run by the test's.
class HandLoop {
 public:
  Store::Post Post() {
    return [this](std::function<void()> function) {
      const std::lock_guard lock(mutex_);
      functions_.push_back(std::move(function));
      posted_.notify_one();
    };
  }
  // Runs what was posted until `done` holds; false after a minute without anything posted.
  bool RunUntil(const std::function<bool()>& done) {
    while (!done()) {
      std::unique_lock lock(mutex_);
      if (!posted_.wait_for(lock, std::chrono::minutes(1), [&] { return !functions_.empty(); })) return false;
      const auto function = std::move(functions_.front());
      functions_.pop_front();
      lock.unlock();
      function();
    }
    return true;
  }

 private:
  std::mutex mutex_;
  std::condition_variable posted_;
  std::deque<std::function<void()>> functions_;
};

inline rules::Reading MakeReading(rules::ChannelId channel, std::int64_t at, std::int64_t milli,
                                  rules::TimeSource source = rules::TimeSource::kArrival, rules::Marks marks = 1) {
  return {channel, rules::FromMillis(at), rules::FromMillis(at), milli, source, marks};
}

inline sensors::Batch MakeBatch(std::vector<rules::Reading> readings, std::string topic = "", std::uint64_t print = 0) {
  return {std::move(topic), print, std::move(readings)};
}

inline JournalLine MakeLine(const std::string& id, const std::string& body = "{}",
                            std::vector<rules::WheelId> wheels = {}) {
  JournalLine line;
  line.id = id;
  line.kind = "care";
  line.keeper = "IH";
  line.cave = 2;
  line.wheels = std::move(wheels);
  line.at = rules::FromMillis(1'700'000'000'123);
  line.tapped_at = rules::FromMillis(1'700'000'000'100);
  line.received_at = rules::FromMillis(1'700'000'000'200);
  line.body = body;
  line.answer = "{\"ok\":\"" + id + "\"}";
  return line;
}

inline Fact MakeFact(const std::string& kind, std::int64_t subject, const std::string& what, std::int64_t from,
                     boost::json::value value) {
  return {kind, subject, what, rules::FromMillis(from), std::move(value)};
}

// A store with its clock and loop, run by the test's thread.
struct Rig {
  explicit Rig(std::string path, Purpose purpose = Purpose::kServe) {
    settings.path = std::move(path);
    settings.purpose = purpose;
  }
  // Opens and starts; what is posted gathers in `inbox`.
  void Begin() {
    store = Store::Open(settings, clock, loop.Post());
    store->Start([this](Committed committed) { inbox.push_back(std::move(committed)); });
  }
  void Reopen() {
    store.reset();
    inbox.clear();
    Begin();
  }
  // For the questions that are asked before a start.
  void OpenOnly() {
    store.reset();
    inbox.clear();
    store = Store::Open(settings, clock, loop.Post());
  }
  AppendResult Append(JournalLine line, std::vector<Fact> facts = {}) {
    return Ask<AppendResult>([&](auto done) { store->Append(std::move(line), std::move(facts), done); });
  }
  std::optional<JournalLine> Find(const std::string& id) {
    return Ask<std::optional<JournalLine>>([&](auto done) { store->Find(id, done); });
  }
  bool Save(Snapshot snapshot) {
    return Ask<bool>([&](auto done) { store->SaveSnapshot(std::move(snapshot), done); });
  }
  std::vector<Bucket> History(rules::ChannelId channel, std::int64_t from, std::int64_t to, std::int64_t width) {
    return Ask<std::vector<Bucket>>([&](auto done) {
      store->History(channel, rules::FromMillis(from), rules::FromMillis(to), rules::Millis{width}, done);
    });
  }
  std::vector<JournalLine> Page(std::int64_t before, std::size_t count) {
    return Ask<std::vector<JournalLine>>([&](auto done) { store->JournalPage(before, count, done); });
  }
  // Everything kept before it has reached `inbox` afterwards; the tick itself is taken out.
  Committed Tick() {
    store->AskTick();
    const auto is_tick = [&] { return !inbox.empty() && std::holds_alternative<Committed::Tick>(inbox.back().what); };
    if (!loop.RunUntil(is_tick)) throw std::runtime_error("no tick came");
    const Committed tick = inbox.back();
    inbox.pop_back();
    return tick;
  }

  Store::Settings settings;
  StandingClock clock;
  HandLoop loop;
  std::vector<Committed> inbox;
  std::unique_ptr<Store> store;

 private:
  template <typename Answer>
  Answer Ask(const std::function<void(std::function<void(Answer)>)>& ask) {
    std::optional<Answer> answer;
    ask([&](Answer given) { answer = std::move(given); });
    if (!loop.RunUntil([&] { return answer.has_value(); })) throw std::runtime_error("no answer came");
    return *std::move(answer);
  }
};

// Runs SQL on a file past the store, as a stranger would; the error's text, empty if it went well.
inline std::string RunSql(const std::string& path, const std::string& sql) {
  sqlite3* db = nullptr;
  sqlite3_open(path.c_str(), &db);
  char* text = nullptr;
  sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &text);
  std::string error = text != nullptr ? text : "";
  sqlite3_free(text);
  sqlite3_close(db);
  return error;
}

// The first column of the first row.
inline std::string AskSql(const std::string& path, const std::string& sql) {
  sqlite3* db = nullptr;
  sqlite3_stmt* statement = nullptr;
  sqlite3_open(path.c_str(), &db);
  std::string answer;
  if (sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr) == SQLITE_OK &&
      sqlite3_step(statement) == SQLITE_ROW) {
    const auto* text = sqlite3_column_text(statement, 0);
    if (text != nullptr) answer = reinterpret_cast<const char*>(text);
  }
  sqlite3_finalize(statement);
  sqlite3_close(db);
  return answer;
}

}  // namespace rindwatch::testing
