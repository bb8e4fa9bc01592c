-- A plan that makes a picture once more knows which one, so that the two can be held side by side when it is poured. What a cup
-- rested and mounded when that picture was poured stands with the planned cup: the plan holds though the picture's own
-- entries are put right later.

ALTER TABLE plan ADD COLUMN repeats_pour_id INTEGER REFERENCES pour(id);
ALTER TABLE planned_cup ADD COLUMN stood_h REAL CHECK (stood_h >= 0);
ALTER TABLE planned_cup ADD COLUMN mound_s REAL CHECK (mound_s > 0);
CREATE INDEX plan_repeats ON plan(repeats_pour_id) WHERE repeats_pour_id IS NOT NULL;
