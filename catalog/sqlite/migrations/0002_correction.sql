-- What a person corrected in rows that were held back: the cells in the order
-- of the sheet's own columns, as a JSON list. A sheet with corrections is read
-- as a whole again and takes its own place, so that undo and the change report
-- need no rule of their own; the numbers of its lines stay.
CREATE TABLE correction (
    sheet_id INTEGER NOT NULL REFERENCES sheet (id),
    line     INTEGER NOT NULL,
    cells    TEXT NOT NULL,
    source   TEXT NOT NULL,                 -- the file that brought it, empty where it was said directly
    at       TEXT NOT NULL,
    PRIMARY KEY (sheet_id, line)
) WITHOUT ROWID;

ALTER TABLE sheet ADD COLUMN amends INTEGER REFERENCES sheet (id) DEFERRABLE INITIALLY DEFERRED;
