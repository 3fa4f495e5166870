-- What this device issued, in the words in which it was issued: never changed, never removed. A number is given out in the
-- transaction that keeps its bill, so that none is missing and none is twice.
CREATE TABLE issued (
    series  TEXT NOT NULL,
    prefix  TEXT NOT NULL,
    n       INTEGER NOT NULL,
    number  TEXT NOT NULL UNIQUE,
    job     TEXT NOT NULL,
    bill    TEXT NOT NULL,
    content TEXT NOT NULL,
    at_ms   INTEGER NOT NULL,
    PRIMARY KEY (series, prefix, n)
) STRICT, WITHOUT ROWID;
