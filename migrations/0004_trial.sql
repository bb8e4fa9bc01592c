-- A trial: factors that are varied on purpose, and its runs in the random order they are to be poured in.

CREATE TABLE trial (
    id         INTEGER PRIMARY KEY,
    uid        TEXT NOT NULL UNIQUE,
    at_ms      INTEGER NOT NULL,
    offset_min INTEGER NOT NULL,
    seed       INTEGER NOT NULL,
    blind      INTEGER NOT NULL,                  -- 1 where settings are hidden until a run is judged
    note       TEXT
) STRICT;

CREATE TABLE trial_factor (
    id       INTEGER PRIMARY KEY,
    trial_id INTEGER NOT NULL REFERENCES trial(id),
    place    INTEGER NOT NULL,
    name     TEXT NOT NULL,
    low      TEXT NOT NULL,
    high     TEXT NOT NULL,
    UNIQUE (trial_id, place)
) STRICT;

CREATE TABLE trial_run (
    id       INTEGER PRIMARY KEY,
    trial_id INTEGER NOT NULL REFERENCES trial(id),
    place    INTEGER NOT NULL,                    -- the order of pouring
    block    INTEGER NOT NULL,
    levels   TEXT NOT NULL,                       -- one sign a factor, in place order: + high, - low, 0 between
    pour_id  INTEGER REFERENCES pour(id),
    UNIQUE (trial_id, place)
) STRICT;
CREATE INDEX trial_run_pour ON trial_run(pour_id) WHERE pour_id IS NOT NULL;
