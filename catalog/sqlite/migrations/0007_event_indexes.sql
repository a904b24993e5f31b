-- What somebody bought under a document, and what came back of a number, is
-- asked for with every answer about a part.
CREATE INDEX purchase_document ON purchase (document);
CREATE INDEX returned_number ON returned (number);
