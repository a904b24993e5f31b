-- What the garage was told about a vehicle, and when, so that a part that comes
-- back is judged by what was said that day.
CREATE TABLE said (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    at       TEXT NOT NULL,
    day      INTEGER NOT NULL,
    how      TEXT NOT NULL,                 -- asked, listed (put on a job list), confirmed
    vehicle  TEXT NOT NULL,
    question TEXT NOT NULL,
    number   TEXT NOT NULL,
    key      TEXT NOT NULL,                 -- folded number
    supplier TEXT NOT NULL,
    outcome  TEXT NOT NULL,
    first    TEXT NOT NULL,                 -- first line of the answer
    sheet    TEXT NOT NULL,                 -- the listing that it rests on; empty: on none
    sha256   TEXT NOT NULL,
    line     INTEGER NOT NULL
);
CREATE INDEX said_key ON said (key);
