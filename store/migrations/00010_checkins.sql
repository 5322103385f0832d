-- What an athlete tells and shows once a week. Photos are JPEGs without metadata;
-- they lie in the data file so that backup, export and erasure take them along.

-- +goose Up
CREATE TABLE check_ins (
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date    INTEGER NOT NULL,
    words   TEXT    NOT NULL,
    signs   TEXT CHECK (json_valid(signs)),
    sent_at TEXT    NOT NULL,
    who     TEXT    NOT NULL,
    PRIMARY KEY (athlete, date)
) STRICT, WITHOUT ROWID;

CREATE TABLE photos (
    entry    INTEGER PRIMARY KEY,
    athlete  INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date     INTEGER NOT NULL,
    pose     TEXT    NOT NULL CHECK (pose IN ('front', 'side', 'back')),
    width    INTEGER NOT NULL,
    height   INTEGER NOT NULL,
    added_at TEXT    NOT NULL,
    jpeg     BLOB    NOT NULL, -- last, so that a list does not read through it
    UNIQUE (athlete, date, pose)
) STRICT;
