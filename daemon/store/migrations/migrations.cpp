#include <array>

#include "daemon/store/migrations/migration.hpp"

namespace rindwatch {

std::span<const Migration> Migrations() {
  static const std::array<Migration, 3> all{kMigration1, kMigration2, kMigration3};
  return all;
}

}  // namespace rindwatch
