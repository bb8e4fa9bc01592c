-- Step 1: the record of what was done.
--
-- One row a commit. `rows` holds every row the commit touched, in the order it was touched, in full,
-- before and after, so that undo needs nothing but this table. It is text (JSON) so that any reader of SQLite can show it.
-- A real number stands as {"real":"0.1"}, because not every JSON reader gives back the same double.
CREATE TABLE change (
    -- AUTOINCREMENT, so that an id is never used again and always tells the order.
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    -- Made before the commit: after an I/O error it answers "was it kept?".
    uid        TEXT    NOT NULL UNIQUE,
    -- Milliseconds since 1970 in UTC, beside the painter's own offset from UTC in minutes.
    at_ms      INTEGER NOT NULL,
    offset_min INTEGER NOT NULL CHECK (offset_min BETWEEN -1440 AND 1440),
    kind       TEXT    NOT NULL CHECK (kind IN ('do', 'undo', 'redo')),
    label      TEXT    NOT NULL CHECK (label <> ''),
    -- The change this one takes back: a 'do' for an undo, an 'undo' for a redo.
    target     INTEGER REFERENCES change (id),
    "rows"     TEXT    NOT NULL CHECK (json_valid("rows")),
    CHECK ((kind = 'do') = (target IS NULL))
) STRICT;

CREATE INDEX change_target ON change (target) WHERE target IS NOT NULL;

-- History is shown and is never rewritten.
CREATE TRIGGER change_stays BEFORE UPDATE ON change
BEGIN SELECT RAISE(ABORT, 'history is never rewritten'); END;

CREATE TRIGGER change_remains BEFORE DELETE ON change
BEGIN SELECT RAISE(ABORT, 'history is never rewritten'); END;
