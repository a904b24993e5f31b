-- The workbook that the text of a sheet was written out of, as it came, in pieces
-- so that it never lies in memory whole.
CREATE TABLE workbook_piece (
    id       INTEGER PRIMARY KEY,
    sheet_id INTEGER NOT NULL REFERENCES sheet (id),
    piece    INTEGER NOT NULL,
    data     BLOB NOT NULL
);
CREATE UNIQUE INDEX workbook_piece_of ON workbook_piece (sheet_id, piece);

ALTER TABLE sheet ADD COLUMN workbook_sha256 TEXT NOT NULL DEFAULT '';
