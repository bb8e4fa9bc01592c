-- A plan that was kept: the panels it is for, when it is to be poured, and the cups it asks for. A planned
-- cup points at the cup that was mixed for it, so that what was planned can be held against what happened.

CREATE TABLE plan (
    id              INTEGER PRIMARY KEY,
    uid             TEXT NOT NULL UNIQUE,
    at_ms           INTEGER NOT NULL,
    offset_min      INTEGER NOT NULL,
    shape           TEXT NOT NULL CHECK (shape IN ('rectangle', 'round', 'oval')),
    width_mm        REAL NOT NULL CHECK (width_mm > 0),
    height_mm       REAL NOT NULL CHECK (height_mm > 0),
    count           INTEGER NOT NULL CHECK (count >= 1),
    edge_mm         REAL NOT NULL CHECK (edge_mm >= 0),
    way             TEXT,
    pour_at_ms      INTEGER,
    pour_offset_min INTEGER,
    note            TEXT
) STRICT;

CREATE TABLE planned_cup (
    id         INTEGER PRIMARY KEY,
    plan_id    INTEGER NOT NULL REFERENCES plan(id),
    place      INTEGER NOT NULL,                -- 1 is the lowest layer
    variant_id INTEGER NOT NULL REFERENCES variant(id),
    ml         REAL NOT NULL CHECK (ml > 0),
    cup_id     INTEGER REFERENCES cup(id),      -- once it is mixed
    UNIQUE (plan_id, place)
) STRICT;
CREATE INDEX planned_cup_of ON planned_cup(cup_id) WHERE cup_id IS NOT NULL;
