-- What the garage says that a note of a supplier's list means. It is kept by
-- the folded text, so that it holds for the supplier's later lists too.
CREATE TABLE note_answer (
    supplier_id INTEGER NOT NULL REFERENCES supplier (id),
    key         TEXT NOT NULL,                 -- folded note
    note        TEXT NOT NULL,
    means       TEXT NOT NULL,                 -- harmless, only or except
    words       TEXT NOT NULL,
    day         TEXT NOT NULL,
    PRIMARY KEY (supplier_id, key)
) WITHOUT ROWID;
