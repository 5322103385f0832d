package store

import (
	"context"
	"errors"
	"os"
	"path/filepath"

	"glidepath/fault"
)

// Backup writes a compact copy of everything to a new file at path, readable by
// its owner only. The copy is one consistent snapshot and is there whole or not
// at all; a file that is already there is a Conflict. Open reads it like any
// data file. It waits for a Write that is under way, and Writes wait for it.
func (s *Store) Backup(ctx context.Context, path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	return explain(s.backup(ctx, path), path)
}

func (s *Store) backup(ctx context.Context, path string) (err error) {
	if _, err := os.Lstat(path); err == nil {
		e := fault.New(fault.Conflict, "there is a file in the backup's place already.").
			WithHint("Choose another name; a backup never overwrites.")
		e.File = path
		return e
	}
	// VACUUM INTO takes an empty file, and CreateTemp makes one with mode 0600.
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*")
	if err != nil {
		return err
	}
	part := f.Name()
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(part))
		}
	}()
	if err := f.Close(); err != nil {
		return err
	}
	// The reading connections are told to change nothing, a copy included.
	if _, err := s.writer.ExecContext(ctx, `VACUUM INTO ?`, part); err != nil {
		return err
	}
	if err := syncFile(part); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// syncFile sees a file on to the disk.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
