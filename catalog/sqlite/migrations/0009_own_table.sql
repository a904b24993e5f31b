-- The garage's own rows of reference tables: each sheet stands for one table
-- and takes the place of the one before it. Rows keep their line and text.
CREATE TABLE own_table (
    name        TEXT PRIMARY KEY,              -- of the reference table
    sheet       TEXT NOT NULL,
    sha256      TEXT NOT NULL,
    imported_at TEXT NOT NULL
) WITHOUT ROWID;

CREATE TABLE own_row (
    name  TEXT NOT NULL REFERENCES own_table (name) ON DELETE CASCADE,
    line  INTEGER NOT NULL,
    cells TEXT NOT NULL,                       -- column -> cell, as JSON
    text  TEXT NOT NULL,                       -- the row as it stands in the sheet
    PRIMARY KEY (name, line)
) WITHOUT ROWID;
