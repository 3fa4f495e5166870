-- Facts about this database: `device` is the id under which this device writes.
CREATE TABLE meta (
    name  TEXT PRIMARY KEY,
    value BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- A document as of its last folding. `heads` are the hashes of its newest changes then.
CREATE TABLE document (
    n        INTEGER PRIMARY KEY,
    kind     TEXT NOT NULL,
    id       TEXT NOT NULL,
    heads    BLOB NOT NULL,
    snapshot BLOB NOT NULL,
    UNIQUE (kind, id)
) STRICT;

-- What was changed since then. `heads` are the hashes of the newest changes after this row.
CREATE TABLE change (
    document INTEGER NOT NULL REFERENCES document (n) ON DELETE CASCADE,
    seq      INTEGER NOT NULL,
    heads    BLOB NOT NULL,
    bytes    BLOB NOT NULL,
    PRIMARY KEY (document, seq)
) STRICT, WITHOUT ROWID;

-- What lists show and sort by, written together with the change that it follows from.
CREATE TABLE summary (
    kind     TEXT NOT NULL,
    id       TEXT NOT NULL,
    revision INTEGER NOT NULL,
    sort     TEXT NOT NULL,
    row      TEXT NOT NULL,
    PRIMARY KEY (kind, id)
) STRICT;

CREATE INDEX summary_by_sort ON summary (kind, sort, id);

-- Edits of this device that can be taken back (undone = 0) or made once more (undone = 1).
CREATE TABLE undo (
    kind   TEXT NOT NULL,
    id     TEXT NOT NULL,
    n      INTEGER NOT NULL,
    label  TEXT NOT NULL,
    writes TEXT NOT NULL,
    undone INTEGER NOT NULL,
    PRIMARY KEY (kind, id, n)
) STRICT, WITHOUT ROWID;

-- How often the client of a job was erased here: what comes in with a smaller count is not taken.
CREATE TABLE erased (
    job        TEXT PRIMARY KEY,
    generation INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Photos whose file is kept; the file is written before the row.
CREATE TABLE photo (
    job      TEXT NOT NULL,
    hash     TEXT NOT NULL,
    mime     TEXT NOT NULL,
    bytes    INTEGER NOT NULL,
    added_ms INTEGER NOT NULL,
    PRIMARY KEY (job, hash)
) STRICT, WITHOUT ROWID;
