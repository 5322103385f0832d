package store_test

import (
	"path/filepath"
	"testing"

	"glidepath/app"
	"glidepath/store"
)

// SQLite says of data_version: "the value is unchanged for commits made on the
// same database connection" (sqlite.org/pragma.html#pragma_data_version).
func TestChanges(t *testing.T) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "two.db")
	open := func() *store.Store {
		s, err := store.Open(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = s.Close() })
		return s
	}
	here, there := open(), open()
	version := func() int64 {
		n, err := here.Changes(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	write := func(s *store.Store, key string) {
		err := s.Write(ctx, func(tx app.Tx) error { return tx.PutMapping(key, []byte("{}")) })
		if err != nil {
			t.Fatal(err)
		}
	}
	before := version()
	write(here, "ours")
	if got := version(); got != before {
		t.Errorf("our own write changed the number from %d to %d", before, got)
	}
	write(there, "theirs")
	if got := version(); got == before {
		t.Error("another's write left the number as it was")
	}
}
