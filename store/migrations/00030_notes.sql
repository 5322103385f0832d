-- What the coach's side writes down of an athlete about a date. A number is never
-- given twice, so that nothing but the note that was meant can be removed by it.

-- +goose Up
CREATE TABLE notes (
    number  INTEGER PRIMARY KEY AUTOINCREMENT,
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date    INTEGER NOT NULL,
    text    TEXT    NOT NULL CHECK (text <> ''),
    who     TEXT    NOT NULL,
    at      TEXT    NOT NULL
) STRICT;
CREATE INDEX notes_by_athlete ON notes (athlete, date);
