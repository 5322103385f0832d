package store

import "context"

// Changes is a number that changes when another program writes to the data file,
// and does not when this Store does (PRAGMA data_version on the one connection
// that writes). It waits for a write that is under way, and must not be called
// within one.
func (s *Store) Changes(ctx context.Context) (n int64, err error) {
	err = s.writer.QueryRowContext(ctx, "PRAGMA data_version").Scan(&n)
	return n, explain(err, s.path)
}
