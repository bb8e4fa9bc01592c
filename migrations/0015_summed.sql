-- What is left on the shelf is a sum over all that ever went into cups: it is taken from these indexes alone, without the rows.

DROP INDEX put_of_material;
CREATE INDEX put_of_material ON put(material_id, cup_id, ml);
DROP INDEX entry_material;
CREATE INDEX entry_material ON entry(material_id, at_ms, ml) WHERE material_id IS NOT NULL;
