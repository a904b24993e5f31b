-- The garage's own log: what was put down by hand, an entry at a time. It has
-- words of its own and no numbers of the table word, so that an entry need not
-- wait for an import. An entry that was taken back stays, and counts no more.
CREATE TABLE logged (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    kind          TEXT NOT NULL,            -- vehicle, fill, fitted, comeback
    at            TEXT NOT NULL,            -- when it was entered
    undone_at     TEXT NOT NULL DEFAULT '',
    day           INTEGER NOT NULL,         -- of what it tells; 0 for a vehicle
    vehicle       TEXT NOT NULL,
    vin           TEXT NOT NULL,
    engine        TEXT NOT NULL,
    first_fill    TEXT NOT NULL,
    circuit       TEXT NOT NULL,
    number        TEXT NOT NULL,
    supplier      TEXT NOT NULL,
    chemistry     TEXT NOT NULL,
    colour        TEXT NOT NULL,
    strength      INTEGER,                  -- ten-thousandths of a per cent
    strength_text TEXT NOT NULL,
    volume        INTEGER,                  -- nanolitres
    volume_text   TEXT NOT NULL,
    drained       INTEGER,
    drained_text  TEXT NOT NULL,
    measured      TEXT NOT NULL,
    quantity      INTEGER NOT NULL,         -- thousandths of a piece
    reason        TEXT NOT NULL,
    bath          TEXT NOT NULL,            -- ok, faulty, empty: not tested
    told          INTEGER NOT NULL,         -- 1 it fits, 2 it does not or nobody can say, 0 not known
    note          TEXT NOT NULL
);
