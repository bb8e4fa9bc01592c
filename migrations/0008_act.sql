-- What a change did, as ids and quantities (JSON), so that it is worded when it is shown, in today's names and measures.
-- NULL for the changes of older versions: they are told by the words they were kept under.
-- `label` of a new change is its kind in one word, for a reader that does not know the act.

ALTER TABLE change ADD COLUMN act TEXT CHECK (act IS NULL OR json_valid(act));
