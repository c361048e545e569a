// What is in the file: its layout, its guards, and whose it is.
#include "daemon/store/schema.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <random>

#include "daemon/store/migrations/migration.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string OpenError(Rig& rig) {
  try {
    rig.OpenOnly();
    return "";
  } catch (const StoreError& error) {
    return error.what();
  }
}

// A file with one of everything.
void Fill(Rig& rig) {
  rig.Begin();
  rig.store->Keep(MakeBatch({MakeReading(1, 1, 1)}, "box", 1));
  rig.Append(MakeLine("a1", "{}", {7, 8}), {MakeFact("wheel", 7, "place", 5, "top")});
  rig.store.reset();
}

TEST_CASE("an empty file becomes a database") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  if (GENERATE(true, false)) std::ofstream(rig.settings.path).flush();
  CHECK(OpenError(rig).empty());
  rig.store.reset();
  CHECK(AskSql(rig.settings.path, "PRAGMA user_version") == std::to_string(Migrations().back().version));
  CHECK(AskSql(rig.settings.path, "PRAGMA application_id") == std::to_string(kApplicationId));
  CHECK(AskSql(rig.settings.path, "PRAGMA journal_mode") == "wal");
  CHECK(AskSql(rig.settings.path, "SELECT value FROM meta WHERE key = 'purpose'") == "serve");
  CHECK(AskSql(rig.settings.path, "SELECT value FROM meta WHERE key = 'created'") == "2023-11-14T22:13:20.000Z");
  CHECK(AskSql(rig.settings.path, "SELECT length(value) FROM meta WHERE key = 'store'") == "32");
}

TEST_CASE("migrations are numbered from one without a gap and leave strict tables") {
  int expected = 0;
  for (const Migration& migration : Migrations()) CHECK(migration.version == ++expected);
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.OpenOnly();
  CHECK(AskSql(rig.settings.path,
               "SELECT group_concat(name) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
               "AND strict = 0 AND name NOT LIKE 'sqlite_%'") == "");
}

TEST_CASE("SQL asks for neither the time nor chance") {
  for (const Migration& migration : Migrations())
    for (const char* word : {"now'", "CURRENT_", "random", "strftime", "julianday"})
      CHECK_THAT(std::string(migration.sql), !Says(word));
}

TEST_CASE("triggers refuse to change or delete what was kept") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  Fill(rig);
  for (const std::string table : {"reading", "journal", "act_wheel", "fact"}) {
    CAPTURE(table);
    CHECK_THAT(RunSql(rig.settings.path, "DELETE FROM " + table), Says("never") || Says("append-only"));
    CHECK_THAT(RunSql(rig.settings.path, "UPDATE " + table + " SET position = position + 1"),
               Says("never") || Says("append-only"));
  }
  CHECK_THAT(
      RunSql(rig.settings.path, "INSERT INTO fact SELECT 99, 0, subject_kind, subject, what, from_ms, '{' FROM fact"),
      Says("CHECK"));
}

TEST_CASE("a trial and a real cellar refuse each other's database") {
  TempFolder folder;
  Rig serve(folder / "cellar.db"), trial(folder / "trial.db", Purpose::kTrial);
  serve.OpenOnly();
  trial.OpenOnly();
  serve.store.reset();
  trial.store.reset();
  std::swap(serve.settings.path, trial.settings.path);
  CHECK_THAT(OpenError(serve), Says("trial.db holds a trial") && Says("name another database"));
  CHECK_THAT(OpenError(trial), Says("cellar.db holds a real cellar") && Says("name another folder"));
  std::swap(serve.settings.path, trial.settings.path);
  CHECK(OpenError(serve).empty());
  CHECK(OpenError(trial).empty());
}

TEST_CASE("a second writer is told who holds the database") {
  TempFolder folder;
  Rig first(folder / "rind.db"), second(folder / "rind.db");
  first.OpenOnly();
  const std::string error = OpenError(second);
  CHECK_THAT(error, Says("rind.db is already being written by process " + std::to_string(getpid()) + ":"));
  CHECK_THAT(error, Says("stop that rindwatch first"));
  first.store.reset();
  CHECK(OpenError(second).empty());
}

TEST_CASE("the lock is free when its process was killed") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    Rig held(rig.settings.path);
    held.OpenOnly();
    _exit(held.store ? 7 : 1);  // without closing anything
  }
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WEXITSTATUS(status) == 7);
  CHECK(OpenError(rig).empty());
}

TEST_CASE("a file that is not ours is refused with a sentence, and left as it was") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  std::string before;
  const auto bytes = [&] {
    std::ifstream file(rig.settings.path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(file), {});
  };
  SECTION("of a newer rindwatch") {
    Fill(rig);
    RunSql(rig.settings.path, "PRAGMA user_version = 4000");
    before = bytes();
    CHECK_THAT(OpenError(rig), Says("was written by a newer rindwatch (layout 4000") && Says("install the newer"));
  }
  SECTION("of another program") {
    RunSql(rig.settings.path, "CREATE TABLE recipes (name TEXT)");
    before = bytes();
    CHECK_THAT(OpenError(rig), Says("is a database of another program"));
  }
  SECTION("not a database") {
    std::ofstream(rig.settings.path) << std::string(5'000, 'x');
    before = bytes();
    CHECK_THAT(OpenError(rig), Says("is not a database of rindwatch"));
  }
  SECTION("a damaged one") {
    Fill(rig);
    std::fstream file(rig.settings.path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(100);
    file << std::string(3'996, '\x5a');
    file.close();
    before = bytes();
    CHECK_THAT(OpenError(rig), Says("is damaged") && Says("put the last backup in its place"));
  }
  CHECK(bytes() == before);
}

TEST_CASE("a folder that is not there is named") {
  TempFolder folder;
  Rig rig(folder / "nowhere/rind.db");
  CHECK_THAT(OpenError(rig), Says("The folder of") && Says("does not exist: create it"));
}

TEST_CASE("a database changed at random is refused or read, and never brings the process down") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  Fill(rig);
  std::ifstream file(rig.settings.path, std::ios::binary);
  const std::string whole((std::istreambuf_iterator<char>(file)), {});
  std::mt19937 random(4);
  for (int round = 0; round < 60; ++round) {
    std::string damaged = whole;
    for (int i = 0; i < 40; ++i) damaged[random() % damaged.size()] = static_cast<char>(random());
    std::ofstream(rig.settings.path, std::ios::binary) << damaged;
    try {
      rig.OpenOnly();
      rig.store->ReadFacts([](const JournalLine&, const Fact&) {});
      rig.store->ReadInputs(0, std::nullopt, [](const Committed&) {});
    } catch (const std::runtime_error& error) {
      CHECK(std::string(error.what()).size() > 20);
    }
    rig.store.reset();
    for (const char* suffix : {"-wal", "-shm"}) std::filesystem::remove(rig.settings.path + suffix);
  }
  SUCCEED();
}

TEST_CASE("the present is the newest fact of a subject that no undo names") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  const auto undo = [](const std::string& of, boost::json::value wheels) {
    return MakeFact("act", 0, "undone", 0, boost::json::object{{"of", of}, {"wheels", std::move(wheels)}});
  };
  const auto place = [&](int wheel) {
    return AskSql(rig.settings.path,
                  "SELECT value FROM present WHERE subject_kind = 'wheel' AND what = 'place' "
                  "AND subject = " +
                      std::to_string(wheel));
  };
  rig.Append(MakeLine("a1"), {MakeFact("wheel", 1, "place", 10, 100), MakeFact("wheel", 2, "place", 10, 200)});
  rig.Append(MakeLine("a2"), {MakeFact("wheel", 1, "place", 30, 101), MakeFact("wheel", 2, "place", 30, 201)});
  rig.Append(MakeLine("a3"), {MakeFact("wheel", 1, "place", 20, 102)});
  CHECK(place(1) == "101");
  rig.Append(MakeLine("u1"), {undo("a2", boost::json::array{1})});
  CHECK(place(1) == "102");
  CHECK(place(2) == "201");
  rig.Append(MakeLine("u2"), {undo("a3", nullptr)});
  CHECK(place(1) == "100");
  rig.Append(MakeLine("u3"), {undo("u1", nullptr)});
  CHECK(place(1) == "101");
}

}  // namespace
}  // namespace rindwatch
