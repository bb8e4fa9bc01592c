-- What a studio keeps. Instants are milliseconds UTC beside the local offset in minutes, so that they
-- sort as numbers and still show the wall clock of the day. Every row a person made has a `uid` made by
-- the program, so that it can be found again after a doubtful write and be told apart on import.

CREATE TABLE setting (
    id    INTEGER PRIMARY KEY,
    name  TEXT NOT NULL UNIQUE,
    value TEXT NOT NULL
) STRICT;

CREATE TABLE material (
    id           INTEGER PRIMARY KEY,
    uid          TEXT NOT NULL UNIQUE,
    name         TEXT NOT NULL UNIQUE COLLATE NOCASE,
    kind         TEXT NOT NULL,
    pack_ml      REAL,
    price        TEXT,              -- of one pack; decimal text, never a float
    density      REAL,              -- g/ml
    colour_index TEXT,
    hazard       TEXT
) STRICT;

-- Bottles bought and shelves counted. A count overrules all that was before it.
CREATE TABLE stock (
    id          INTEGER PRIMARY KEY,
    uid         TEXT NOT NULL UNIQUE,
    material_id INTEGER NOT NULL REFERENCES material(id),
    at_ms       INTEGER NOT NULL,
    offset_min  INTEGER NOT NULL,
    kind        TEXT NOT NULL CHECK (kind IN ('bought', 'counted')),
    ml          REAL NOT NULL,
    price       TEXT
) STRICT;
CREATE INDEX stock_of_material ON stock(material_id, at_ms);

CREATE TABLE recipe (
    id    INTEGER PRIMARY KEY,
    uid   TEXT NOT NULL UNIQUE,
    name  TEXT NOT NULL UNIQUE COLLATE NOCASE,
    layer TEXT NOT NULL CHECK (layer IN ('base', 'colour', 'activator', 'medium'))
) STRICT;

-- A change of parts or targets is a new variant with its parent; a variant is never rewritten.
CREATE TABLE variant (
    id          INTEGER PRIMARY KEY,
    uid         TEXT NOT NULL UNIQUE,
    recipe_id   INTEGER NOT NULL REFERENCES recipe(id),
    number      INTEGER NOT NULL CHECK (number >= 1),
    parent_id   INTEGER REFERENCES variant(id),
    at_ms       INTEGER NOT NULL,
    offset_min  INTEGER NOT NULL,
    by_weight   INTEGER NOT NULL DEFAULT 0,
    mound_low   REAL,
    mound_high  REAL,
    rest_ms     INTEGER NOT NULL,
    again_ms    INTEGER NOT NULL,
    stir_min    REAL,
    limit_share REAL NOT NULL,      -- most thinner in a cup, as a share of its volume
    note        TEXT,
    UNIQUE (recipe_id, number)
) STRICT;

CREATE TABLE part (
    id          INTEGER PRIMARY KEY,
    variant_id  INTEGER NOT NULL REFERENCES variant(id),
    place       INTEGER NOT NULL,
    material_id INTEGER REFERENCES material(id),
    recipe_id   INTEGER REFERENCES recipe(id),
    share       REAL NOT NULL CHECK (share > 0),
    CHECK ((material_id IS NULL) <> (recipe_id IS NULL)),
    UNIQUE (variant_id, place)
) STRICT;

CREATE TABLE cup (
    id          INTEGER PRIMARY KEY,
    uid         TEXT NOT NULL UNIQUE,
    mark        TEXT NOT NULL,
    variant_id  INTEGER NOT NULL REFERENCES variant(id),
    at_ms       INTEGER NOT NULL,
    offset_min  INTEGER NOT NULL,
    volume_ml   REAL NOT NULL CHECK (volume_ml > 0),
    depth_mm    REAL,
    diameter_mm REAL,
    tape        TEXT,
    note        TEXT,
    spent_at_ms INTEGER             -- set once it is ended or empty; a mark is free again then
) STRICT;
CREATE UNIQUE INDEX cup_living_mark ON cup(mark) WHERE spent_at_ms IS NULL;
CREATE INDEX cup_mark ON cup(mark, id);
CREATE INDEX cup_variant ON cup(variant_id, id);

-- What really went into a cup: a material from the shelf, or paint from another cup.
CREATE TABLE put (
    id            INTEGER PRIMARY KEY,
    cup_id        INTEGER NOT NULL REFERENCES cup(id),
    place         INTEGER NOT NULL,
    material_id   INTEGER REFERENCES material(id),
    source_cup_id INTEGER REFERENCES cup(id),
    ml            REAL NOT NULL CHECK (ml > 0),
    CHECK ((material_id IS NULL) <> (source_cup_id IS NULL))
) STRICT;
CREATE INDEX put_of_cup ON put(cup_id, place);
CREATE INDEX put_of_material ON put(material_id, cup_id);

CREATE TABLE panel (
    id        INTEGER PRIMARY KEY,
    uid       TEXT NOT NULL UNIQUE,
    shape     TEXT NOT NULL CHECK (shape IN ('rectangle', 'round', 'oval')),
    width_mm  REAL NOT NULL CHECK (width_mm > 0),
    height_mm REAL NOT NULL CHECK (height_mm > 0)
) STRICT;

CREATE TABLE pour (
    id         INTEGER PRIMARY KEY,
    uid        TEXT NOT NULL UNIQUE,
    panel_id   INTEGER NOT NULL REFERENCES panel(id),
    go         INTEGER NOT NULL CHECK (go >= 1),   -- 1, or one more than the go that was scraped
    again_of   INTEGER REFERENCES pour(id),
    at_ms      INTEGER NOT NULL,
    offset_min INTEGER NOT NULL,
    way        TEXT,
    air_c      REAL,
    air_rh     REAL,
    note       TEXT
) STRICT;
CREATE INDEX pour_panel ON pour(panel_id, go);
CREATE INDEX pour_at ON pour(at_ms);
CREATE INDEX pour_again ON pour(again_of);

-- The only table that says what happened to a cup. Rows are added, and taken back only by undo.
CREATE TABLE entry (
    id          INTEGER PRIMARY KEY,
    uid         TEXT NOT NULL UNIQUE,
    cup_id      INTEGER NOT NULL REFERENCES cup(id),
    at_ms       INTEGER NOT NULL,
    offset_min  INTEGER NOT NULL,
    told        INTEGER NOT NULL DEFAULT 0,        -- 1 where a person gave the instant, 0 where the clock did
    kind        TEXT NOT NULL,
    minutes     REAL,
    mound_s     REAL,
    flow_cup    TEXT,
    efflux_s    REAL,
    ml          REAL,
    material_id INTEGER REFERENCES material(id),
    hard        INTEGER NOT NULL DEFAULT 0,
    word        TEXT,                              -- bubbles, clear; used, binned, skinned
    into_cup_id INTEGER REFERENCES cup(id),
    pour_id     INTEGER REFERENCES pour(id)
) STRICT;
CREATE INDEX entry_of_cup ON entry(cup_id, id);
CREATE INDEX entry_material ON entry(material_id, at_ms) WHERE material_id IS NOT NULL;
CREATE INDEX entry_into ON entry(into_cup_id) WHERE into_cup_id IS NOT NULL;
CREATE INDEX entry_pour ON entry(pour_id) WHERE pour_id IS NOT NULL;

CREATE TABLE layer (
    id       INTEGER PRIMARY KEY,
    pour_id  INTEGER NOT NULL REFERENCES pour(id),
    place    INTEGER NOT NULL,                     -- 1 is the lowest
    cup_id   INTEGER NOT NULL REFERENCES cup(id),
    ml       REAL NOT NULL CHECK (ml > 0),
    state    TEXT NOT NULL,                        -- of the cup at its pour: evidence
    mound_s  REAL,
    UNIQUE (pour_id, place)
) STRICT;
CREATE INDEX layer_cup ON layer(cup_id);

CREATE TABLE move (
    id        INTEGER PRIMARY KEY,
    pour_id   INTEGER NOT NULL REFERENCES pour(id),
    place     INTEGER NOT NULL,
    kind      TEXT NOT NULL,
    direction TEXT,
    times     REAL,
    UNIQUE (pour_id, place)
) STRICT;

CREATE TABLE judgement (
    id         INTEGER PRIMARY KEY,
    uid        TEXT NOT NULL UNIQUE,
    pour_id    INTEGER NOT NULL REFERENCES pour(id),
    at_ms      INTEGER NOT NULL,
    offset_min INTEGER NOT NULL,
    dry        INTEGER NOT NULL,
    cells      INTEGER NOT NULL CHECK (cells BETWEEN 0 AND 5),
    size       TEXT,
    evenness   INTEGER,
    lacing     INTEGER,
    muddy      INTEGER,
    crazed     INTEGER,
    pinholes   INTEGER,
    fate       TEXT,
    note       TEXT
) STRICT;
CREATE INDEX judgement_pour ON judgement(pour_id, id);
