// The record of all that was kept, opened to be read only: it reads what it knows, and refuses the rest plainly.
#include "daemon/store/record.hpp"

#include <fstream>

#include "daemon/store/migrations/migration.hpp"
#include "daemon/store/schema.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string Refused(const std::string& path) {
  try {
    Record::Open(path);
  } catch (const StoreError& error) {
    return error.what();
  }
  return "";
}

TEST_CASE("a record is read while the store that writes it is open") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.OpenOnly();
  const auto record = Record::Open(rig.settings.path);
  CHECK_FALSE(record->First());
  CHECK_FALSE(record->Last());
}

TEST_CASE("a record of another layout is refused with what to do") {
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.OpenOnly();
  rig.store.reset();
  const int newest = Migrations().back().version;
  RunSql(rig.settings.path, "PRAGMA user_version = " + std::to_string(newest + 1));
  CHECK_THAT(Refused(rig.settings.path), Says("written by a newer rindwatch") && Says("install the newer"));
  RunSql(rig.settings.path, "PRAGMA user_version = " + std::to_string(newest - 1));
  CHECK_THAT(Refused(rig.settings.path), Says("written by an older rindwatch") && Says("start `rindwatch serve`"));
  RunSql(rig.settings.path, "PRAGMA user_version = " + std::to_string(newest));
  CHECK(Refused(rig.settings.path).empty());
  RunSql(rig.settings.path, "PRAGMA application_id = 7");
  CHECK_THAT(Refused(rig.settings.path), Says("another program"));
}

TEST_CASE("an empty file and one that is no database are refused") {
  TempFolder folder;
  std::ofstream(folder / "empty.db").flush();
  CHECK_THAT(Refused(folder / "empty.db"), Says("is empty: nothing was kept in it yet"));
  std::ofstream(folder / "text.db") << std::string(4096, 'x');
  CHECK_THAT(Refused(folder / "text.db"), Says("is not a database of rindwatch"));
  CHECK_FALSE(Refused(folder / "missing.db").empty());
}

}  // namespace
}  // namespace rindwatch
