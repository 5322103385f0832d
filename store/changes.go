package store

import (
	"context"
	"errors"
)

// Changes is a number that changes when another program changes what is kept of
// athletes in the data file, and does not when this Store does, nor with accounts,
// sessions and lines of the record. It waits for a write that is under way, and must
// not be called within one.
func (s *Store) Changes(ctx context.Context) (n int64, err error) {
	defer func() { err = explain(err, s.path) }()
	conn, err := s.writer.Conn(ctx) // holding it, s.own stands still
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	if err := conn.QueryRowContext(ctx, `SELECT n FROM changes`).Scan(&n); err != nil {
		return 0, err
	}
	return n - s.own, nil
}
