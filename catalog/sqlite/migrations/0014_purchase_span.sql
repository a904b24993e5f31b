-- How much each sheet of purchases has of a supplier in 32 days, by day / 32
-- rounded down: with every answer that rests on one list it is added up how much
-- was ever bought of whom.
CREATE TABLE purchase_span (
    sheet_id INTEGER NOT NULL,
    supplier INTEGER NOT NULL,
    span     INTEGER NOT NULL,
    first    INTEGER NOT NULL,              -- days of the first and the last purchase
    last     INTEGER NOT NULL,
    quantity INTEGER NOT NULL,
    PRIMARY KEY (sheet_id, supplier, span)
) WITHOUT ROWID;

INSERT INTO purchase_span SELECT sheet_id, supplier, day >> 5, min(day), max(day), sum(quantity)
FROM purchase WHERE sheet_id IS NOT NULL GROUP BY sheet_id, supplier, day >> 5;
