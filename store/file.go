package store

import (
	"context"
	"database/sql"
	"errors"
	"io"
	"net/url"
	"os"
	"path/filepath"

	"glidepath/fault"
)

// companions are the suffixes of the files that make up a data file: itself,
// the write-ahead log and the log's index.
var companions = [...]string{"", "-wal", "-shm"}

// sqliteMagic opens every SQLite file (https://www.sqlite.org/fileformat2.html,
// section 1.3.1).
const sqliteMagic = "SQLite format 3\x00"

// applicationID marks a data file as ours, "GLPD" in the header's field for it.
const applicationID = 0x474C5044

// prepareFile makes the file where it is missing, sees that it may be an SQLite
// file, and closes it to everybody but its owner. SQLite gives a log the mode
// of its file.
func prepareFile(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	head := make([]byte, len(sqliteMagic))
	n, err := io.ReadFull(f, head)
	if closeErr := f.Close(); closeErr != nil {
		return closeErr
	}
	switch {
	case errors.Is(err, io.EOF): // empty: a new file
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return err
	case string(head[:n]) != sqliteMagic:
		return notOurs(path, "it is not a database")
	}
	return closeToOthers(path)
}

func closeToOthers(path string) error {
	for _, suffix := range companions {
		info, err := os.Stat(path + suffix)
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		if info.Mode().Perm()&0o077 != 0 {
			if err := os.Chmod(path+suffix, 0o600); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkOwner refuses the database of another program before anything is
// changed in it. One that holds no table yet is taken as new.
func checkOwner(ctx context.Context, path string) (err error) {
	db, err := sql.Open("sqlite", dataSource(fileURI(path), url.Values{"_query_only": {"on"}}))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	// Both answers come from one snapshot: another process may just be making
	// the file.
	snapshot, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return err
	}
	defer func() { _ = snapshot.Rollback() }()
	var id, tables int64
	if err := snapshot.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil {
		return err
	}
	err = snapshot.QueryRowContext(ctx, `
		SELECT count(*) FROM sqlite_schema
		WHERE name NOT IN ('sqlite_sequence', ?)`, versionTable).Scan(&tables)
	if err != nil {
		return err
	}
	if id != applicationID && (id != 0 || tables > 0) {
		return notOurs(path, "it is a database of another program")
	}
	return nil
}

func notOurs(path, why string) error {
	e := fault.New(fault.Invalid, "this is not a Glidepath data file: %s.", why).
		WithHint("Give another path for the data, or leave it out for the usual place.")
	e.File = path
	return e
}
