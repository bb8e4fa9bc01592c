-- Names that can be put right, prices that are never dropped, and cups that are thickened.
-- What is no longer offered stays in the past: `retired_at_ms` says since when.
-- A price was paid for `priced_ml`; where that is NULL, for one pack.
-- Paint that was added to a cup (kind `added`) came from the shelf (`material_id`) or out of another cup (`from_cup_id`);
-- `thinner_ml` of it was thinner.

ALTER TABLE material ADD COLUMN priced_ml REAL;
ALTER TABLE material ADD COLUMN retired_at_ms INTEGER;
ALTER TABLE recipe ADD COLUMN retired_at_ms INTEGER;
ALTER TABLE entry ADD COLUMN from_cup_id INTEGER REFERENCES cup(id);
ALTER TABLE entry ADD COLUMN thinner_ml REAL;
CREATE INDEX entry_from ON entry(from_cup_id) WHERE from_cup_id IS NOT NULL;
