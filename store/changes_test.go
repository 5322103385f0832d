package store_test

import (
	"errors"
	"path/filepath"
	"testing"

	"glidepath/account"
	"glidepath/app"
	"glidepath/store"
)

// What another program changes of athletes is noticed; what this one does is not, nor
// a line of the record, whoever wrote it.
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
	for _, s := range []*store.Store{here, there} {
		err := s.Accounts().Write(ctx, func(tx account.Tx) error { return tx.AddEntry(&account.Entry{Who: "Wren", What: "read the log"}) })
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := here.Write(ctx, func(app.Tx) error { return nil }); err != nil { // nothing is written
		t.Fatal(err)
	}
	if err := there.Write(ctx, func(tx app.Tx) error {
		if err := tx.PutMapping("undone", []byte("{}")); err != nil {
			t.Error(err)
		}
		return errors.New("undone")
	}); err == nil {
		t.Error("an error was lost")
	}
	if got := version(); got != before {
		t.Errorf("lines of the record, and what was undone, changed the number from %d to %d", before, got)
	}
	write(there, "theirs")
	after := version()
	if after == before {
		t.Error("another's write left the number as it was")
	}
	write(here, "ours again")
	if got := version(); got != after {
		t.Errorf("our own write changed the number from %d to %d", after, got)
	}
}
