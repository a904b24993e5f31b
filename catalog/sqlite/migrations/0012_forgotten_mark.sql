-- By which a sheet that comes later is known to name a vehicle that was
-- forgotten: a keyed digest of each of its marks and VINs, and the name that its
-- history is kept under. The key is the setting forget-secret.
CREATE TABLE forgotten (
    digest BLOB PRIMARY KEY,
    name   TEXT NOT NULL
) WITHOUT ROWID;
