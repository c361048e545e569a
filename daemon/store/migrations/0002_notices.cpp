#include "daemon/store/migrations/migration.hpp"

namespace rindwatch {

const Migration kMigration2{2, R"sql(
-- What is to be said to whom, and what became of it. A row changes as its sending goes on; none is deleted.
-- The key says what it is about, so that the same thing is never said twice.
CREATE TABLE notice (
  number INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE CHECK (key <> ''),
  made_at INTEGER NOT NULL,
  hearer TEXT NOT NULL,     -- initials; empty where one keeps alone
  way TEXT NOT NULL,        -- mail, webhook
  address TEXT NOT NULL,    -- a mail address, or the name of a webhook
  kind TEXT NOT NULL,       -- rings, again, taken, over, morning, evening, test
  alarm TEXT NOT NULL,      -- its id; empty: of no alarm
  asked INTEGER NOT NULL,   -- when the alarm began to ask, or the list's day began
  nth INTEGER NOT NULL,
  letter TEXT NOT NULL CHECK (json_valid(letter)),
  state TEXT NOT NULL,      -- waiting, handing, sent, folded, given up, doubtful, shown
  tries INTEGER NOT NULL,
  next_at INTEGER,
  done_at INTEGER,
  within INTEGER,           -- the number of the notice that it went with
  why TEXT NOT NULL
) STRICT;
CREATE INDEX notice_open ON notice (state) WHERE state IN ('waiting', 'handing');
CREATE INDEX notice_by_time ON notice (made_at);
)sql"};

}  // namespace rindwatch
