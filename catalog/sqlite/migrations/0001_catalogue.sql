-- Words that occur again and again (headings, makes, engine texts, units as
-- written) stand here once; everything else points to them by number.
CREATE TABLE word (
    id   INTEGER PRIMARY KEY,
    text TEXT NOT NULL UNIQUE
);

CREATE TABLE supplier (
    id           INTEGER PRIMARY KEY,
    name         TEXT NOT NULL UNIQUE,
    index_folder TEXT NOT NULL DEFAULT ''   -- the search index that belongs to the committed rows
);

CREATE TABLE supplier_name (
    key         TEXT PRIMARY KEY,           -- folded name
    name        TEXT NOT NULL,
    supplier_id INTEGER NOT NULL REFERENCES supplier (id)
) WITHOUT ROWID;

-- A sheet that a newer one replaces stays, inactive, until the one after
-- that is committed: nothing is deleted while somebody may still read it.
CREATE TABLE sheet (
    id           INTEGER PRIMARY KEY,
    supplier_id  INTEGER REFERENCES supplier (id),
    kind         TEXT NOT NULL,
    name         TEXT NOT NULL,
    sha256       TEXT NOT NULL,
    size         INTEGER NOT NULL,
    raw          BLOB,                      -- the file's own bytes, compressed, where they are not the text of its lines
    imported_at  TEXT NOT NULL,
    mapping      TEXT NOT NULL,
    fields       TEXT NOT NULL,             -- our field names, sorted, with a space between
    active       INTEGER NOT NULL DEFAULT 1,
    replaced_by  INTEGER REFERENCES sheet (id) DEFERRABLE INITIALLY DEFERRED,
    rows_read    INTEGER NOT NULL,
    rows_taken   INTEGER NOT NULL,
    rows_held    INTEGER NOT NULL,
    rows_skipped INTEGER NOT NULL,
    CHECK (rows_read = rows_taken + rows_held + rows_skipped)
);
CREATE INDEX sheet_active ON sheet (active, kind, supplier_id);

-- The file's text, compressed in blocks of lines, so that one line can be shown
-- without unpacking the whole sheet.
CREATE TABLE sheet_block (
    id         INTEGER PRIMARY KEY,
    sheet_id   INTEGER NOT NULL REFERENCES sheet (id),
    first_line INTEGER NOT NULL,
    data       BLOB NOT NULL
);
CREATE UNIQUE INDEX sheet_block_line ON sheet_block (sheet_id, first_line);

CREATE TABLE held (
    sheet_id INTEGER NOT NULL REFERENCES sheet (id),
    line     INTEGER NOT NULL,
    field    TEXT NOT NULL,                 -- the sheet's own heading
    text     TEXT NOT NULL,
    reason   TEXT NOT NULL,
    code     TEXT NOT NULL,
    raw      TEXT NOT NULL,
    key      TEXT NOT NULL,                 -- part number key, where it could be read
    state    TEXT NOT NULL DEFAULT 'open',  -- open, waived or corrected
    said     TEXT NOT NULL DEFAULT '',      -- why it was waived, or the corrected cells
    said_at  TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (sheet_id, line)
) WITHOUT ROWID;
CREATE INDEX held_key ON held (key) WHERE key <> '';

CREATE TABLE part (
    id          INTEGER PRIMARY KEY,
    supplier_id INTEGER NOT NULL REFERENCES supplier (id),
    number      TEXT NOT NULL,
    key         TEXT NOT NULL
);
CREATE UNIQUE INDEX part_key ON part (key, supplier_id);

-- Which parts a sheet speaks of, and a sum over all it says of each: equal
-- sums mean that nothing changed.
CREATE TABLE sheet_part (
    sheet_id INTEGER NOT NULL,
    part_id  INTEGER NOT NULL,
    content  INTEGER NOT NULL,
    PRIMARY KEY (sheet_id, part_id)
) WITHOUT ROWID;
CREATE INDEX sheet_part_part ON sheet_part (part_id);

-- The tables that a list fills by the million (sheet_part, fact, application,
-- fitment) name no foreign keys: checking each number tripled the time for
-- which a commit locks everybody else out. The numbers come from the holder of
-- the import lock, and a test checks them all.
CREATE TABLE fact (
    part_id  INTEGER NOT NULL,
    field    INTEGER NOT NULL,
    sheet_id INTEGER NOT NULL,
    line     INTEGER NOT NULL,
    value    INTEGER NOT NULL,              -- whole number of the quantity's base unit
    word     INTEGER,
    text     INTEGER,  -- the cell as written
    PRIMARY KEY (part_id, field, sheet_id)
) WITHOUT ROWID;

-- One vehicle-and-engine statement, however many parts are listed for it.
CREATE TABLE application (
    id           INTEGER PRIMARY KEY,
    make         INTEGER NOT NULL,
    model        INTEGER NOT NULL,
    engine       INTEGER NOT NULL,
    years        INTEGER NOT NULL,
    vin8         INTEGER NOT NULL,
    where_fitted INTEGER NOT NULL,
    condition    INTEGER NOT NULL,
    quantity     INTEGER NOT NULL
);
CREATE INDEX application_engine ON application (engine);

CREATE TABLE fitment (
    application_id INTEGER NOT NULL,
    part_id        INTEGER NOT NULL,
    sheet_id       INTEGER NOT NULL,
    line           INTEGER NOT NULL,
    PRIMARY KEY (application_id, part_id, sheet_id, line)
) WITHOUT ROWID;
CREATE INDEX fitment_part ON fitment (part_id, sheet_id);

CREATE TABLE engine_name (
    key     TEXT NOT NULL,                  -- folded engine text of a list
    word_id INTEGER NOT NULL REFERENCES word (id),
    PRIMARY KEY (key, word_id)
) WITHOUT ROWID;

CREATE TABLE cross_reference (
    part_id        INTEGER NOT NULL REFERENCES part (id),
    other_supplier TEXT NOT NULL,           -- as written, empty where none was named
    other_number   TEXT NOT NULL,
    other_key      TEXT NOT NULL,
    relation       TEXT NOT NULL,
    sheet_id       INTEGER NOT NULL REFERENCES sheet (id),
    line           INTEGER NOT NULL
);
CREATE INDEX cross_reference_part ON cross_reference (part_id);
CREATE INDEX cross_reference_other ON cross_reference (other_key);

CREATE TABLE engine_fact (
    family   TEXT NOT NULL,
    circuit  TEXT NOT NULL,
    field    TEXT NOT NULL,
    sheet_id INTEGER NOT NULL REFERENCES sheet (id),
    line     INTEGER NOT NULL,
    value    INTEGER NOT NULL,
    word     TEXT NOT NULL,
    text     TEXT NOT NULL,
    PRIMARY KEY (family, circuit, field, sheet_id)
) WITHOUT ROWID;

-- What happened. The content sum and the number of its repeats tell whether a
-- row of a later sheet is the same event again. Rows logged by hand belong to
-- no sheet. Repeated words are numbers of the table word.
CREATE TABLE purchase (
    id         INTEGER PRIMARY KEY,
    sheet_id   INTEGER REFERENCES sheet (id),
    line       INTEGER NOT NULL,
    content    INTEGER NOT NULL,
    repeat     INTEGER NOT NULL,
    day        INTEGER NOT NULL,
    supplier   INTEGER NOT NULL REFERENCES word (id),
    number     INTEGER NOT NULL REFERENCES word (id),
    type       INTEGER NOT NULL REFERENCES word (id),
    quantity   INTEGER NOT NULL,            -- thousandths of a piece
    price      INTEGER,                     -- ten-thousandths of the currency unit
    currency   INTEGER NOT NULL REFERENCES word (id),
    price_text INTEGER NOT NULL REFERENCES word (id),
    document   INTEGER NOT NULL REFERENCES word (id),
    vehicle    INTEGER NOT NULL REFERENCES word (id)
);
CREATE INDEX purchase_content ON purchase (content, repeat);
CREATE INDEX purchase_sheet ON purchase (sheet_id);

CREATE TABLE returned (
    id            INTEGER PRIMARY KEY,
    sheet_id      INTEGER REFERENCES sheet (id),
    line          INTEGER NOT NULL,
    content       INTEGER NOT NULL,
    repeat        INTEGER NOT NULL,
    day           INTEGER NOT NULL,
    supplier      INTEGER NOT NULL REFERENCES word (id),
    number        INTEGER NOT NULL REFERENCES word (id),
    quantity      INTEGER NOT NULL,
    reason        INTEGER NOT NULL REFERENCES word (id),
    purchase_day  INTEGER,
    purchase_text INTEGER NOT NULL REFERENCES word (id),
    fitted_day    INTEGER,
    fitted_text   INTEGER NOT NULL REFERENCES word (id),
    document      INTEGER NOT NULL REFERENCES word (id),
    note          INTEGER NOT NULL REFERENCES word (id)
);
CREATE INDEX returned_content ON returned (content, repeat);
CREATE INDEX returned_sheet ON returned (sheet_id);

CREATE TABLE vehicle (
    id         INTEGER PRIMARY KEY,
    sheet_id   INTEGER REFERENCES sheet (id),
    line       INTEGER NOT NULL,
    content    INTEGER NOT NULL,
    repeat     INTEGER NOT NULL,
    mark       INTEGER NOT NULL REFERENCES word (id),
    vin        INTEGER NOT NULL REFERENCES word (id),
    engine     INTEGER NOT NULL REFERENCES word (id),
    first_fill INTEGER NOT NULL REFERENCES word (id)
);
CREATE INDEX vehicle_content ON vehicle (content, repeat);
CREATE INDEX vehicle_sheet ON vehicle (sheet_id);

CREATE TABLE fill (
    id            INTEGER PRIMARY KEY,
    sheet_id      INTEGER REFERENCES sheet (id),
    line          INTEGER NOT NULL,
    content       INTEGER NOT NULL,
    repeat        INTEGER NOT NULL,
    day           INTEGER NOT NULL,
    vehicle       INTEGER NOT NULL REFERENCES word (id),
    engine        INTEGER NOT NULL REFERENCES word (id),
    circuit       INTEGER NOT NULL REFERENCES word (id),
    number        INTEGER NOT NULL REFERENCES word (id),
    chemistry     INTEGER NOT NULL REFERENCES word (id),
    colour        INTEGER NOT NULL REFERENCES word (id),
    strength      INTEGER,
    strength_text INTEGER NOT NULL REFERENCES word (id),
    volume        INTEGER,
    volume_text   INTEGER NOT NULL REFERENCES word (id),
    drained       INTEGER,
    drained_text  INTEGER NOT NULL REFERENCES word (id),
    note          INTEGER NOT NULL REFERENCES word (id)
);
CREATE INDEX fill_content ON fill (content, repeat);
CREATE INDEX fill_sheet ON fill (sheet_id);
CREATE INDEX fill_vehicle ON fill (vehicle);

CREATE TABLE fitted (
    id       INTEGER PRIMARY KEY,
    sheet_id INTEGER REFERENCES sheet (id),
    line     INTEGER NOT NULL,
    content  INTEGER NOT NULL,
    repeat   INTEGER NOT NULL,
    day      INTEGER NOT NULL,
    vehicle  INTEGER NOT NULL REFERENCES word (id),
    number   INTEGER NOT NULL REFERENCES word (id),
    supplier INTEGER NOT NULL REFERENCES word (id),
    measured INTEGER NOT NULL REFERENCES word (id)
);
CREATE INDEX fitted_content ON fitted (content, repeat);
CREATE INDEX fitted_sheet ON fitted (sheet_id);

-- A sheet that waits for a decision: the file and what was said about it so
-- far. Accepting it imports exactly these bytes.
CREATE TABLE staged (
    id        INTEGER PRIMARY KEY,          -- the number the sheet will have
    name      TEXT NOT NULL,
    question  TEXT NOT NULL,                -- the import as it was asked for, as JSON
    answer    TEXT NOT NULL,                -- what it would do and what is open, as JSON
    staged_at TEXT NOT NULL,
    data      BLOB NOT NULL                 -- the file, compressed
);

-- What was decided about a sheet after it was imported, oldest first.
CREATE TABLE decision (
    id       INTEGER PRIMARY KEY,
    sheet_id INTEGER NOT NULL,
    what     TEXT NOT NULL,                 -- accepted, dropped, undone, waived, corrected
    note     TEXT NOT NULL,
    at       TEXT NOT NULL
);

CREATE TABLE setting (
    key   TEXT PRIMARY KEY,
    value TEXT NOT NULL
) WITHOUT ROWID;
