-- Lifting: the programmes that a coach writes, a desk's own exercises and what its
-- people call them; settings of the desk; more of how a day felt.

-- +goose Up
ALTER TABLE days ADD COLUMN soreness REAL;
ALTER TABLE days ADD COLUMN motivation REAL;
ALTER TABLE days ADD COLUMN mood REAL;
ALTER TABLE days ADD COLUMN pain REAL;
ALTER TABLE days ADD COLUMN pain_where TEXT;

CREATE TABLE programmes (
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    version INTEGER NOT NULL CHECK (version >= 1),
    starts  INTEGER NOT NULL,
    body    TEXT    NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (athlete, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE exercises (
    name TEXT PRIMARY KEY,
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT, WITHOUT ROWID;

CREATE TABLE exercise_names (
    typed    TEXT PRIMARY KEY,
    exercise TEXT NOT NULL -- empty is a lift of its own
) STRICT, WITHOUT ROWID;

CREATE TABLE settings (
    name TEXT PRIMARY KEY,
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT, WITHOUT ROWID;

-- +goose StatementBegin
CREATE TRIGGER programmes_stay BEFORE UPDATE ON programmes
BEGIN SELECT RAISE(ABORT, 'programmes is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER programmes_kept BEFORE DELETE ON programmes
WHEN EXISTS (SELECT 1 FROM athletes WHERE key = OLD.athlete)
BEGIN SELECT RAISE(ABORT, 'programmes is append-only'); END;
-- +goose StatementEnd
