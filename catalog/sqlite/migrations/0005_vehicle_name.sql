-- Makes and models by their folded text, so that a name said at the counter
-- leads to its engines without reading every application.
CREATE TABLE vehicle_name (
    key     TEXT NOT NULL,
    word_id INTEGER NOT NULL REFERENCES word (id),
    PRIMARY KEY (key, word_id)
) WITHOUT ROWID;

INSERT OR IGNORE INTO vehicle_name (key, word_id)
SELECT trade_key(word.text), word.id
FROM (SELECT make AS id FROM application UNION SELECT model FROM application) named JOIN word ON word.id = named.id
WHERE trade_key(word.text) <> '';

CREATE INDEX application_make ON application (make);
CREATE INDEX application_model ON application (model);
CREATE INDEX application_vin8 ON application (vin8);
