-- How often what is kept of athletes was changed, counted by transaction. Accounts,
-- sessions and the record of who saw what do not count.

-- +goose Up
CREATE TABLE changes (n INTEGER NOT NULL) STRICT;
INSERT INTO changes (n) VALUES (0);
