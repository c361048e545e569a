// The steps from an empty file to the layout of today, one file each. A step that was released is never changed.
#pragma once

#include <span>

namespace rindwatch {

struct Migration {
  int version;      // the file's user_version after it; consecutive from 1
  const char* sql;  // runs in one transaction
};

extern const Migration kMigration1;
extern const Migration kMigration2;
extern const Migration kMigration3;

// Ascending.
std::span<const Migration> Migrations();

}  // namespace rindwatch
