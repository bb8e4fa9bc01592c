-- A photo of a picture. The original stands in a folder beside this file, named by its SHA-256; here is what must be known
-- of it, and a thumbnail, so that it can be shown where the original is not. What was measured in it stands apart, once for
-- each time it was measured, by whichever method.

CREATE TABLE photo (
    id               INTEGER PRIMARY KEY,
    uid              TEXT NOT NULL UNIQUE,
    pour_id          INTEGER NOT NULL REFERENCES pour(id),
    sha256           TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
    format           TEXT NOT NULL,
    bytes            INTEGER NOT NULL CHECK (bytes > 0),
    width            INTEGER NOT NULL CHECK (width > 0),
    height           INTEGER NOT NULL CHECK (height > 0),
    taken_at_ms      INTEGER NOT NULL,
    taken_offset_min INTEGER NOT NULL,
    taken_by         TEXT NOT NULL,          -- who says when: exif, file, said
    dry              INTEGER NOT NULL CHECK (dry IN (0, 1)),
    corners          TEXT,                   -- as the painter said them, x,y four times
    thumbnail        TEXT,                   -- a JPEG in base64
    note             TEXT
) STRICT;
CREATE INDEX photo_of ON photo(pour_id);

CREATE TABLE measurement (
    id            INTEGER PRIMARY KEY,
    uid           TEXT NOT NULL UNIQUE,
    photo_id      INTEGER NOT NULL REFERENCES photo(id),
    at_ms         INTEGER NOT NULL,
    offset_min    INTEGER NOT NULL,
    method        TEXT NOT NULL,
    corners       TEXT NOT NULL,
    how           TEXT NOT NULL,             -- the corners were found, given or whole
    cells         INTEGER NOT NULL CHECK (cells >= 0),
    per_dm2       REAL,
    share         REAL NOT NULL,
    glare         REAL NOT NULL,
    median_mm     REAL,
    mean_mm       REAL,
    p10_mm        REAL,
    p90_mm        REAL,
    band_low_mm   REAL,
    band_high_mm  REAL,
    evenness      REAL,
    spacing_mm    REAL,
    spacing_ratio REAL,
    roundness     REAL,
    colours       TEXT NOT NULL              -- #rrggbb and its share, one a word
) STRICT;
CREATE INDEX measurement_of ON measurement(photo_id);
