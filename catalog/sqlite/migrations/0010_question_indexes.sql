-- What every question about an engine asks for, and every answer that rests on
-- one list: the names of the garage's engine families, and how much was bought
-- of whom. Each index holds all that the query reads.
CREATE INDEX engine_fact_names ON engine_fact (field, family, sheet_id, line, word);
CREATE INDEX purchase_sums ON purchase (sheet_id, supplier, day, quantity);
DROP INDEX purchase_sheet;
