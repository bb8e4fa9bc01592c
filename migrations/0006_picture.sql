-- A picture that came of a pour: its title, and what became of it as goods. A row is there once one of these is known.
-- Two studios that became one may have a row each for a pour; the first counts. Prices are decimal text, never a float. `buyer` leaves the studio only where that is asked for.

CREATE TABLE picture (
    id              INTEGER PRIMARY KEY,
    uid             TEXT NOT NULL UNIQUE,
    pour_id         INTEGER NOT NULL REFERENCES pour(id),
    title           TEXT,
    asked           TEXT,
    price           TEXT,                         -- what it was sold for; a sale has it and an instant, or neither
    sold_at_ms      INTEGER,
    sold_offset_min INTEGER,
    buyer           TEXT,
    venue           TEXT,
    CHECK ((price IS NULL) = (sold_at_ms IS NULL)),
    CHECK ((price IS NULL) = (sold_offset_min IS NULL))
) STRICT;
CREATE INDEX picture_pour ON picture(pour_id);

-- Read-only views for analysis (pandas, DuckDB, R, any SQL): units stand in the column names, instants are text in UTC.
-- `assets/schema.md` tells each column. No part of the program reads them.

CREATE VIEW view_cup AS
SELECT cup.id AS cup,
       cup.mark,
       recipe.name AS recipe,
       variant.number AS variant,
       recipe.layer,
       strftime('%Y-%m-%dT%H:%M:%SZ', cup.at_ms / 1000, 'unixepoch') AS mixed_at_utc,
       cup.volume_ml,
       cup.depth_mm,
       cup.diameter_mm,
       cup.tape,
       variant.mound_low AS window_low_s,
       variant.mound_high AS window_high_s,
       variant.rest_ms / 3600000.0 AS rest_planned_h,
       (SELECT COUNT(*) FROM entry WHERE entry.cup_id = cup.id AND entry.mound_s IS NOT NULL) AS readings,
       (SELECT entry.mound_s FROM entry WHERE entry.cup_id = cup.id AND entry.mound_s IS NOT NULL
        ORDER BY entry.id DESC LIMIT 1) AS last_mound_s,
       (SELECT COALESCE(SUM(entry.ml), 0.0) FROM entry WHERE entry.cup_id = cup.id AND entry.kind = 'thinned') AS thinner_ml,
       (SELECT COALESCE(SUM(entry.ml), 0.0) FROM entry WHERE entry.cup_id = cup.id AND entry.kind = 'drawn') AS drawn_ml,
       strftime('%Y-%m-%dT%H:%M:%SZ', cup.spent_at_ms / 1000, 'unixepoch') AS spent_at_utc,
       cup.note
FROM cup
JOIN variant ON variant.id = cup.variant_id
JOIN recipe ON recipe.id = variant.recipe_id;

CREATE VIEW view_pour AS
SELECT pour.id AS pour,
       strftime('%Y-%m-%dT%H:%M:%SZ', pour.at_ms / 1000, 'unixepoch') AS poured_at_utc,
       strftime('%Y-%m-%dT%H:%M:%S', pour.at_ms / 1000 + pour.offset_min * 60, 'unixepoch') AS poured_at_local,
       pour.panel_id AS panel,
       pour.go,
       pour.again_of AS scraped_pour,
       panel.shape,
       panel.width_mm,
       panel.height_mm,
       panel.width_mm * panel.height_mm
           * CASE panel.shape WHEN 'rectangle' THEN 1.0 ELSE 0.7853981633974483 END / 100.0 AS area_cm2,
       pour.way,
       pour.air_c AS air_celsius,
       pour.air_rh * 100.0 AS air_humidity_percent,
       (SELECT COUNT(*) FROM layer WHERE layer.pour_id = pour.id) AS layers,
       (SELECT SUM(layer.ml) FROM layer WHERE layer.pour_id = pour.id) AS paint_ml,
       (SELECT SUM(layer.ml) FROM layer WHERE layer.pour_id = pour.id) * 1000.0
           / (panel.width_mm * panel.height_mm
              * CASE panel.shape WHEN 'rectangle' THEN 1.0 ELSE 0.7853981633974483 END) AS wet_film_mm,
       (SELECT COUNT(*) FROM move WHERE move.pour_id = pour.id) AS moves,
       picture.title,
       picture.asked AS asked_price,
       picture.price AS sold_price,
       strftime('%Y-%m-%dT%H:%M:%SZ', picture.sold_at_ms / 1000, 'unixepoch') AS sold_at_utc,
       pour.note
FROM pour
JOIN panel ON panel.id = pour.panel_id
LEFT JOIN picture ON picture.id = (SELECT MIN(one.id) FROM picture AS one WHERE one.pour_id = pour.id);

-- The judgement that counts of each pour: the last dry one, else the last wet one.
CREATE VIEW view_outcome AS
SELECT judgement.pour_id AS pour,
       strftime('%Y-%m-%dT%H:%M:%SZ', judgement.at_ms / 1000, 'unixepoch') AS judged_at_utc,
       judgement.dry,
       judgement.cells AS cells_0_to_5,
       judgement.size AS cell_size,
       judgement.evenness AS evenness_0_to_5,
       judgement.lacing AS lacing_0_to_5,
       judgement.muddy AS muddy_0_to_5,
       judgement.crazed AS crazed_0_to_5,
       judgement.pinholes AS pinholes_0_to_5,
       judgement.fate,
       judgement.note
FROM judgement
WHERE judgement.id = (SELECT other.id FROM judgement AS other WHERE other.pour_id = judgement.pour_id
                      ORDER BY other.dry DESC, other.id DESC LIMIT 1);
