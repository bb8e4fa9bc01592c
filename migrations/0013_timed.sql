-- What was done at which instant, where the pour was made step by step: when a layer lay, when a move began, how long it took.

ALTER TABLE layer ADD COLUMN poured_ms INTEGER;
ALTER TABLE move ADD COLUMN begun_ms INTEGER;
ALTER TABLE move ADD COLUMN took_s REAL CHECK (took_s >= 0);
