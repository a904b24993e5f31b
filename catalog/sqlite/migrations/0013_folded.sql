-- Words that events are looked up by, by their folded text and the column that
-- holds them, so that a question about one vehicle or number need not read and
-- fold every other. A word that is deleted takes its rows here with it.
CREATE TABLE folded (
    place   TEXT NOT NULL,                 -- table.column
    key     TEXT NOT NULL,
    word_id INTEGER NOT NULL,
    PRIMARY KEY (place, key, word_id)
) WITHOUT ROWID;
CREATE INDEX folded_word ON folded (word_id);

INSERT INTO folded (place, key, word_id)
SELECT n.place, trade_key(word.text), word.id FROM (
    SELECT 'vehicle.mark' AS place, mark AS id FROM vehicle UNION SELECT 'vehicle.engine', engine FROM vehicle
    UNION SELECT 'fill.vehicle', vehicle FROM fill UNION SELECT 'fitted.vehicle', vehicle FROM fitted
    UNION SELECT 'purchase.vehicle', vehicle FROM purchase UNION SELECT 'returned.number', number FROM returned
) n JOIN word ON word.id = n.id;

CREATE INDEX vehicle_engine ON vehicle (engine, mark);
CREATE INDEX vehicle_mark ON vehicle (mark);

-- Under which folded names, makes and models a row of an engine sheet, in use or
-- not, speaks of a family: those that a question need not read at all are told
-- apart by it.
CREATE TABLE family_key (
    key    TEXT NOT NULL,
    family TEXT NOT NULL,
    PRIMARY KEY (key, family)
) WITHOUT ROWID;

INSERT OR IGNORE INTO family_key (key, family)
SELECT k.value, e.family FROM engine_fact e, json_each(trade_keys(CASE e.field WHEN 'family' THEN e.family ELSE e.word END)) k
WHERE e.field IN ('family', 'also_known_as', 'make', 'model');

-- Which parts any sheet, in use or not, calls a type. Of what is listed for an
-- engine most is of other types, and is left out before it is read.
CREATE TABLE part_called (
    word    INTEGER NOT NULL,
    part_id INTEGER NOT NULL,
    PRIMARY KEY (word, part_id)
) WITHOUT ROWID;

INSERT OR IGNORE INTO part_called (word, part_id)
SELECT word, part_id FROM fact WHERE field = (SELECT id FROM word WHERE text = 'type') AND word IS NOT NULL;
