-- The first schema. Migrations are append-only: a released one is never edited,
-- and a change to the shape of a JSON document is a migration too, so that an
-- older program refuses the file instead of dropping what it does not know.
--
-- Dates are civil.Date: days counted from 0001-01-01 as 1. To see one:
--   SELECT date(date + 1721424.5) FROM days;
-- Moments are RFC 3339 in UTC. NULL is "not recorded", never zero.

-- +goose Up
-- +goose StatementBegin
PRAGMA application_id = 1196183620;
-- +goose StatementEnd

CREATE TABLE athletes (
    key     INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    profile TEXT NOT NULL CHECK (json_valid(profile))
) STRICT;

CREATE TABLE athlete_versions (
    athlete     INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    version     INTEGER NOT NULL CHECK (version >= 1),
    profile     TEXT    NOT NULL CHECK (json_valid(profile)),
    replaced_at TEXT    NOT NULL,
    PRIMARY KEY (athlete, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE days (
    athlete        INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date           INTEGER NOT NULL,
    weight_kg      REAL,
    energy_kcal    REAL,
    protein_g      REAL,
    carbohydrate_g REAL,
    fat_g          REAL,
    fibre_g        REAL,
    sodium_mg      REAL,
    steps          REAL,
    sleep_h        REAL,
    hunger         REAL,
    fatigue        REAL,
    resting_pulse  REAL,
    cycle_day      INTEGER,
    day_type       TEXT,
    notes          TEXT,
    cardio         TEXT CHECK (json_valid(cardio)),
    weight_use     INTEGER CHECK (weight_use IN (0, 1)), -- a person's word on the weight
    weight_use_who TEXT,
    PRIMARY KEY (athlete, date)
) STRICT, WITHOUT ROWID;

CREATE TABLE corrections (
    entry   INTEGER PRIMARY KEY,
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date    INTEGER NOT NULL,
    field   TEXT    NOT NULL,
    old     TEXT    NOT NULL,
    new     TEXT    NOT NULL,
    source  TEXT    NOT NULL,
    at      TEXT    NOT NULL,
    who     TEXT    NOT NULL
) STRICT;
CREATE INDEX corrections_by_date ON corrections (athlete, date);

CREATE TABLE measurements (
    entry        INTEGER PRIMARY KEY,
    athlete      INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date         INTEGER NOT NULL,
    method       TEXT    NOT NULL,
    made_by      TEXT    NOT NULL,
    body_fat_pct REAL,
    weight_kg    REAL,
    folds_mm     TEXT CHECK (json_valid(folds_mm)),
    girths_cm    TEXT CHECK (json_valid(girths_cm)),
    note         TEXT NOT NULL,
    UNIQUE (athlete, date, method, made_by)
) STRICT;

CREATE TABLE sets (
    entry     INTEGER PRIMARY KEY,
    athlete   INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date      INTEGER NOT NULL,
    exercise  TEXT    NOT NULL,
    place     INTEGER NOT NULL,
    weight_kg REAL    NOT NULL,
    reps      INTEGER NOT NULL,
    rir       REAL,
    side      TEXT    NOT NULL,
    notes     TEXT    NOT NULL,
    UNIQUE (athlete, date, exercise, place)
) STRICT;

CREATE TABLE sessions (
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date    INTEGER NOT NULL,
    minutes REAL    NOT NULL,
    rpe     REAL    NOT NULL,
    PRIMARY KEY (athlete, date)
) STRICT, WITHOUT ROWID;

CREATE TABLE prescriptions (
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    version INTEGER NOT NULL CHECK (version >= 1),
    starts  INTEGER NOT NULL,
    body    TEXT    NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (athlete, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE reviews (
    athlete    INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    date       INTEGER NOT NULL,
    proposal   BLOB,
    decision   TEXT NOT NULL,
    reason     TEXT NOT NULL,
    who        TEXT NOT NULL,
    decided_at TEXT,
    version    INTEGER,
    PRIMARY KEY (athlete, date),
    FOREIGN KEY (athlete, version) REFERENCES prescriptions (athlete, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE mappings (
    signature TEXT PRIMARY KEY,
    mapping   BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- What is append-only is so by the database's own rule. Rows go only with the
-- athlete they belong to: a cascade runs after the athlete's row is gone.

-- +goose StatementBegin
CREATE TRIGGER athlete_versions_stay BEFORE UPDATE ON athlete_versions
BEGIN SELECT RAISE(ABORT, 'athlete_versions is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER athlete_versions_kept BEFORE DELETE ON athlete_versions
WHEN EXISTS (SELECT 1 FROM athletes WHERE key = OLD.athlete)
BEGIN SELECT RAISE(ABORT, 'athlete_versions is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER corrections_stay BEFORE UPDATE ON corrections
BEGIN SELECT RAISE(ABORT, 'corrections is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER corrections_kept BEFORE DELETE ON corrections
WHEN EXISTS (SELECT 1 FROM athletes WHERE key = OLD.athlete)
BEGIN SELECT RAISE(ABORT, 'corrections is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER prescriptions_stay BEFORE UPDATE ON prescriptions
BEGIN SELECT RAISE(ABORT, 'prescriptions is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER prescriptions_kept BEFORE DELETE ON prescriptions
WHEN EXISTS (SELECT 1 FROM athletes WHERE key = OLD.athlete)
BEGIN SELECT RAISE(ABORT, 'prescriptions is append-only'); END;
-- +goose StatementEnd
