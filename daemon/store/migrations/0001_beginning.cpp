#include "daemon/store/migrations/migration.hpp"

namespace rindwatch {

const Migration kMigration1{1, R"sql(
-- Of the file itself: purpose, store, created.
CREATE TABLE meta (
  key TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Positions number all that was kept, readings and journal lines alike, in the order of the commits. kept_at never
-- goes back. Instants are UTC milliseconds, values thousandths of the channel kind's unit.
-- The key ascends, so that a commit touches the last page only; a key by channel would touch one page a channel.
CREATE TABLE reading (
  position INTEGER PRIMARY KEY,
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),  -- within its message: 0 begins one
  kept_at INTEGER NOT NULL,
  channel INTEGER NOT NULL,
  measured_at INTEGER NOT NULL,
  received_at INTEGER NOT NULL,
  milli INTEGER NOT NULL,
  source INTEGER NOT NULL CHECK (source BETWEEN 1 AND 5),  -- 1 own, 2 arrival, 3 backlog, 4 typed, 5 held
  marks INTEGER NOT NULL CHECK (marks BETWEEN 0 AND 255)   -- bits: 1 live, 2 repeat, 4 own time not believed
) STRICT;
-- The identity of a reading that names its own time.
CREATE UNIQUE INDEX reading_own ON reading (measured_at, channel) WHERE source = 1;
-- A drawing reads this alone; nearly in the order of arrival, so that it too grows at its end.
CREATE INDEX reading_by_time ON reading (measured_at, channel, marks, milli);

-- Sums up the readings up to reading_summed.position, so that a start need not read years.
CREATE TABLE channel_newest (
  channel INTEGER PRIMARY KEY,
  measured_at INTEGER NOT NULL
) STRICT;
CREATE TABLE reading_summed (
  only INTEGER PRIMARY KEY CHECK (only = 1),
  position INTEGER NOT NULL
) STRICT;
INSERT INTO reading_summed (only, position) VALUES (1, 0);

-- Of the last kept message of a topic: its bytes' fingerprint, by which a repeat is known.
CREATE TABLE last_message (
  topic TEXT PRIMARY KEY NOT NULL,
  fingerprint INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE journal (
  position INTEGER PRIMARY KEY,
  kept_at INTEGER NOT NULL,
  id TEXT NOT NULL UNIQUE CHECK (id <> ''),
  kind TEXT NOT NULL,
  keeper TEXT NOT NULL,
  cave INTEGER,
  wheels TEXT NOT NULL CHECK (json_valid(wheels)),  -- an array of numbers; act_wheel sums it up
  at INTEGER NOT NULL,
  tapped_at INTEGER,
  said_at INTEGER,
  sent_at INTEGER,
  received_at INTEGER NOT NULL,
  late_entry INTEGER NOT NULL CHECK (late_entry IN (0, 1)),
  body TEXT NOT NULL,
  given TEXT NOT NULL,
  answer TEXT NOT NULL
) STRICT;

-- Sums up journal.wheels.
CREATE TABLE act_wheel (
  position INTEGER NOT NULL REFERENCES journal (position),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),
  wheel INTEGER NOT NULL,
  PRIMARY KEY (position, ordinal)
) STRICT, WITHOUT ROWID;
CREATE INDEX act_wheel_by_wheel ON act_wheel (wheel, position);

-- Sums up what the lines say: (subject, what) has this value from an instant on.
CREATE TABLE fact (
  position INTEGER NOT NULL REFERENCES journal (position),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),
  subject_kind TEXT NOT NULL CHECK (subject_kind <> ''),
  subject INTEGER NOT NULL,
  what TEXT NOT NULL CHECK (what <> ''),
  from_ms INTEGER NOT NULL,
  value TEXT NOT NULL CHECK (json_valid(value)),
  PRIMARY KEY (position, ordinal)
) STRICT, WITHOUT ROWID;
CREATE INDEX fact_by_subject ON fact (subject_kind, subject, what, from_ms, position);

-- What undo lines name: the act's id, and the wheels for which it is undone (NULL: for all). An undo that another
-- undo names is left out; a longer chain of undos is followed by the watch, not here.
CREATE VIEW undone AS
  SELECT u.position, u.value ->> 'of' AS of, u.value ->> 'wheels' AS wheels
  FROM fact u JOIN journal line ON line.position = u.position
  WHERE u.subject_kind = 'act' AND u.what = 'undone'
    AND NOT EXISTS (SELECT 1 FROM fact again
                    WHERE again.subject_kind = 'act' AND again.what = 'undone' AND again.value ->> 'of' = line.id);

-- The newest fact of each subject that no undo names. For people with a question and an SQL prompt.
CREATE VIEW present AS
  SELECT subject_kind, subject, what, from_ms, value, position FROM (
    SELECT f.*, row_number() OVER (PARTITION BY f.subject_kind, f.subject, f.what
                                   ORDER BY f.from_ms DESC, f.position DESC, f.ordinal DESC) AS age
    FROM fact f JOIN journal line ON line.position = f.position
    WHERE f.subject_kind <> 'act'
      AND NOT EXISTS (SELECT 1 FROM undone u
                      WHERE u.of = line.id
                        AND (u.wheels IS NULL
                             OR (f.subject_kind = 'wheel'
                                 AND EXISTS (SELECT 1 FROM json_each(u.wheels) w WHERE w.value = f.subject)))))
  WHERE age = 1;

-- The engine's memory at a position; the newest few.
CREATE TABLE snapshot (
  position INTEGER PRIMARY KEY,
  at INTEGER NOT NULL,
  rules_version INTEGER NOT NULL,
  text TEXT NOT NULL
) STRICT;

CREATE TRIGGER reading_is_kept BEFORE UPDATE ON reading
  BEGIN SELECT raise(ABORT, 'readings are never changed'); END;
CREATE TRIGGER reading_stays BEFORE DELETE ON reading
  BEGIN SELECT raise(ABORT, 'readings are never deleted'); END;
CREATE TRIGGER journal_is_kept BEFORE UPDATE ON journal
  BEGIN SELECT raise(ABORT, 'the journal is append-only: a correction is a new line'); END;
CREATE TRIGGER journal_stays BEFORE DELETE ON journal
  BEGIN SELECT raise(ABORT, 'the journal is append-only: a correction is a new line'); END;
CREATE TRIGGER act_wheel_is_kept BEFORE UPDATE ON act_wheel
  BEGIN SELECT raise(ABORT, 'the wheels of a line are never changed'); END;
CREATE TRIGGER act_wheel_stays BEFORE DELETE ON act_wheel
  BEGIN SELECT raise(ABORT, 'the wheels of a line are never deleted'); END;
CREATE TRIGGER fact_is_kept BEFORE UPDATE ON fact
  BEGIN SELECT raise(ABORT, 'a fact is never changed: a new line says another from its time on'); END;
CREATE TRIGGER fact_stays BEFORE DELETE ON fact
  BEGIN SELECT raise(ABORT, 'a fact is never deleted: an undo names its line'); END;
)sql"};

}  // namespace rindwatch
