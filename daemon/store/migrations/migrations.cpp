#include <array>

#include "daemon/store/migrations/migration.hpp"

namespace rindwatch {

std::span<const Migration> Migrations() {
  static const std::array<Migration, 1> all{kMigration1};
  return all;
}

}  // namespace rindwatch
