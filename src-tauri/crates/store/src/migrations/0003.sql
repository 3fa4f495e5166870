-- The revision of each job at which its photos were last looked over: until it changes, there is nothing new to free.
CREATE TABLE swept (
    job      TEXT PRIMARY KEY,
    revision INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
