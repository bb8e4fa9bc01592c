-- What was being built on a screen and is in no deed yet: the stack, half-filled forms, as JSON. It survives a quit and a kill, and is
-- offered again. It is no part of the history, is not exported, and nothing refers to it.

CREATE TABLE draft (
    id INTEGER PRIMARY KEY,
    -- The screen that it is of, and its process: what a living screen builds is not offered to another.
    session TEXT NOT NULL,
    pid INTEGER NOT NULL,
    text TEXT NOT NULL CHECK (json_valid(text))
) STRICT;
