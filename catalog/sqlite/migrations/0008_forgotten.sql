-- The digest of what is kept of a sheet whose rows were written over because a
-- vehicle was forgotten; empty where the sheet is kept as it came.
ALTER TABLE sheet ADD COLUMN kept_sha256 TEXT NOT NULL DEFAULT '';
