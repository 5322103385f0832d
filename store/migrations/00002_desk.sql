-- Who comes to the desk, and the record of who saw or changed what. Secrets are
-- stored as hashes only. What concerns one athlete goes with them.

-- +goose Up
CREATE TABLE accounts (
    key      INTEGER PRIMARY KEY,
    id       TEXT    NOT NULL UNIQUE,
    login    TEXT    NOT NULL UNIQUE,
    name     TEXT    NOT NULL,
    role     TEXT    NOT NULL CHECK (role IN ('owner', 'coach', 'assistant', 'athlete')),
    athlete  INTEGER UNIQUE REFERENCES athletes (key) ON DELETE CASCADE, -- of an athlete's own account
    password TEXT    NOT NULL,
    disabled INTEGER NOT NULL CHECK (disabled IN (0, 1)),
    made_at  TEXT    NOT NULL,
    CHECK ((role = 'athlete') = (athlete IS NOT NULL))
) STRICT;

-- Which athletes are a coach's or an assistant's.
CREATE TABLE account_athletes (
    account INTEGER NOT NULL REFERENCES accounts (key) ON DELETE CASCADE,
    athlete INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    PRIMARY KEY (account, athlete)
) STRICT, WITHOUT ROWID;
CREATE INDEX account_athletes_by_athlete ON account_athletes (athlete);

CREATE TABLE account_sessions (
    hash       BLOB    PRIMARY KEY,
    account    INTEGER NOT NULL REFERENCES accounts (key) ON DELETE CASCADE,
    made_at    TEXT    NOT NULL,
    seen_at    TEXT    NOT NULL,
    expires_at TEXT    NOT NULL,
    address    TEXT    NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX account_sessions_by_account ON account_sessions (account);

CREATE TABLE tokens (
    id         TEXT    PRIMARY KEY,
    account    INTEGER NOT NULL REFERENCES accounts (key) ON DELETE CASCADE,
    name       TEXT    NOT NULL,
    scopes     TEXT    NOT NULL, -- with commas
    hash       BLOB    NOT NULL,
    made_at    TEXT    NOT NULL,
    expires_at TEXT    NOT NULL,
    used_at    TEXT,
    revoked_at TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX tokens_by_account ON tokens (account);

CREATE TABLE invitations (
    id         TEXT    PRIMARY KEY,
    athlete    INTEGER NOT NULL REFERENCES athletes (key) ON DELETE CASCADE,
    hash       BLOB    NOT NULL UNIQUE,
    made_by    TEXT    NOT NULL,
    made_at    TEXT    NOT NULL,
    expires_at TEXT    NOT NULL,
    used_at    TEXT,
    revoked_at TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX invitations_by_athlete ON invitations (athlete);

-- Moments of the record have nine decimals, so that they sort as text.
CREATE TABLE record (
    entry    INTEGER PRIMARY KEY,
    at       TEXT    NOT NULL,
    account  INTEGER REFERENCES accounts (key) ON DELETE SET NULL,
    who      TEXT    NOT NULL,
    via      TEXT    NOT NULL,
    address  TEXT    NOT NULL,
    action   TEXT    NOT NULL,
    athlete  INTEGER REFERENCES athletes (key) ON DELETE SET NULL,
    what     TEXT    NOT NULL
) STRICT;
CREATE INDEX record_by_time ON record (at);
CREATE INDEX record_by_athlete ON record (athlete);
CREATE INDEX record_by_account ON record (account);

CREATE TABLE answers (
    account INTEGER NOT NULL REFERENCES accounts (key) ON DELETE CASCADE,
    name    TEXT    NOT NULL, -- the client's key
    request BLOB    NOT NULL,
    athlete INTEGER REFERENCES athletes (key) ON DELETE CASCADE,
    at      TEXT    NOT NULL,
    status  INTEGER NOT NULL, -- 0 while it is being done
    header  TEXT    NOT NULL CHECK (json_valid(header)),
    body    BLOB    NOT NULL,
    PRIMARY KEY (account, name)
) STRICT, WITHOUT ROWID;
CREATE INDEX answers_by_athlete ON answers (athlete);
CREATE INDEX answers_by_time ON answers (at);

-- A line of the record only ever loses the person it names, when they are erased.

-- +goose StatementBegin
CREATE TRIGGER record_stays BEFORE UPDATE ON record
WHEN NEW.entry <> OLD.entry OR NEW.at <> OLD.at OR NEW.via <> OLD.via OR NEW.action <> OLD.action OR NEW.what <> OLD.what
    OR NEW.who NOT IN (OLD.who, 'erased') OR NEW.address NOT IN (OLD.address, '')
    OR (NEW.account IS NOT OLD.account AND NEW.account IS NOT NULL)
    OR (NEW.athlete IS NOT OLD.athlete AND NEW.athlete IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'record is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER record_kept BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT, 'record is append-only'); END;
-- +goose StatementEnd
