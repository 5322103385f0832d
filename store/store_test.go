package store

import (
	"path/filepath"
	"testing"

	"glidepath/app"
	"glidepath/store/storetest"
)

func TestConformanceFile(t *testing.T) {
	storetest.Run(t, func(t *testing.T) app.Store { return openNew(t) }, storetest.Options{})
}

func TestConformanceMemory(t *testing.T) {
	storetest.Run(t, func(t *testing.T) app.Store {
		s, err := OpenMemory(t.Context())
		return closeAfter(t, s, err)
	}, storetest.Options{Serial: true})
}

func TestAccountConformanceFile(t *testing.T) {
	storetest.RunAccounts(t, func(t *testing.T) storetest.AccountStore { return openNew(t) })
}

func TestAccountConformanceMemory(t *testing.T) {
	storetest.RunAccounts(t, func(t *testing.T) storetest.AccountStore {
		s, err := OpenMemory(t.Context())
		return closeAfter(t, s, err)
	})
}

// openNew opens a new data file in a directory of the test's own.
func openNew(t testing.TB) *Store {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "data.db"))
}

func openAt(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(t.Context(), path)
	return closeAfter(t, s, err)
}

func closeAfter(t testing.TB, s *Store, err error) *Store {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}
