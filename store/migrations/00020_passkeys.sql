-- Passkeys: the public halves of keys that people's devices keep. Nothing in here
-- is secret. They go with their account.

-- +goose Up
CREATE TABLE passkeys (
    id          TEXT    PRIMARY KEY,
    account     INTEGER NOT NULL REFERENCES accounts (key) ON DELETE CASCADE,
    name        TEXT    NOT NULL,
    host        TEXT    NOT NULL,
    credential  BLOB    NOT NULL UNIQUE,
    public_key  BLOB    NOT NULL,
    transports  TEXT    NOT NULL, -- with commas
    sign_count  INTEGER NOT NULL,
    backup_able INTEGER NOT NULL CHECK (backup_able IN (0, 1)),
    backup_done INTEGER NOT NULL CHECK (backup_done IN (0, 1)),
    made_at     TEXT    NOT NULL,
    used_at     TEXT,
    doubted_at  TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX passkeys_by_account ON passkeys (account);
