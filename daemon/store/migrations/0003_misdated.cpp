#include "daemon/store/migrations/migration.hpp"

namespace rindwatch {

const Migration kMigration3{3, R"sql(
-- Positions that were given while this machine's clock was ahead. What was measured there after `until` bears a time
-- that never was. Nothing of it is deleted; nothing is judged or drawn by it.
CREATE TABLE misdated (
  first INTEGER PRIMARY KEY,
  last INTEGER NOT NULL CHECK (last >= first),
  until INTEGER NOT NULL  -- what the clock showed when it was set back
) STRICT;
CREATE TRIGGER misdated_is_kept BEFORE UPDATE ON misdated
  BEGIN SELECT raise(ABORT, 'what a wrong clock dated is never changed'); END;
CREATE TRIGGER misdated_stays BEFORE DELETE ON misdated
  BEGIN SELECT raise(ABORT, 'what a wrong clock dated is never deleted'); END;
)sql"};

}  // namespace rindwatch
