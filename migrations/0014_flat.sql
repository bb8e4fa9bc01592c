-- What is asked each day costs what is new, however old the studio is: pours of one technique by their time, and cups by the
-- time they were mixed, so that what went into the cups of a month is read without those of the years before.

CREATE INDEX pour_way ON pour (trim(coalesce(way, '')) COLLATE NOCASE, at_ms);
CREATE INDEX cup_at ON cup (at_ms);
