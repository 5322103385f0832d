package store

import (
	"errors"
	"io/fs"
	"syscall"

	"glidepath/fault"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// errReadOnly is a programming error: a method that writes in a Read.
var errReadOnly = errors.New("store: a write in a read transaction")

// explain turns what a person can mend into a fault that names the file;
// anything else stays as it is, for the log.
func explain(err error, path string) error {
	if err == nil || fault.KindOf(err) != "" {
		return err
	}
	e := explainSQLite(err)
	if e == nil {
		e = explainFile(err)
	}
	if e == nil {
		return err
	}
	e.File, e.Cause = path, err
	return e
}

func isBusy(err error) bool {
	e, ok := errors.AsType[*sqlite.Error](err)
	return ok && e.Code()&0xff == sqlite3.SQLITE_BUSY
}

func explainSQLite(err error) *fault.Error {
	e, ok := errors.AsType[*sqlite.Error](err)
	if !ok {
		return nil
	}
	switch e.Code() & 0xff { // the rest of an extended code is detail
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fault.New(fault.Conflict, "another program is writing to the data file.").
			WithHint("Wait until it is done, then try again.")
	case sqlite3.SQLITE_NOTADB:
		return fault.New(fault.Invalid, "this is not a Glidepath data file, or its first page is damaged.").
			WithHint("Give another path for the data, or put a backup in its place.")
	case sqlite3.SQLITE_CORRUPT:
		return fault.New(fault.Invalid, "the data file is damaged.").
			WithHint("Keep a copy of it, and put the latest backup in its place.")
	case sqlite3.SQLITE_FULL:
		return fault.New(fault.Invalid, "the disk is full; nothing was stored.").
			WithHint("Free some space, then try again.")
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		return fault.New(fault.Invalid, "the data file cannot be opened for writing.").
			WithHint("See to the permissions of the file and of its directory.")
	}
	return nil
}

func explainFile(err error) *fault.Error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fault.New(fault.Invalid, "the data file cannot be opened for writing.").
			WithHint("See to the permissions of the file and of its directory.")
	case errors.Is(err, syscall.EISDIR), errors.Is(err, syscall.ENOTDIR):
		return fault.New(fault.Invalid, "there is a directory where the data file should be, or a file where its directory should be.").
			WithHint("Give the path of a file.")
	case errors.Is(err, fs.ErrNotExist):
		return fault.New(fault.NotFound, "there is no such directory.").
			WithHint("Make it first, or give another path.")
	case errors.Is(err, syscall.ENOSPC):
		return fault.New(fault.Invalid, "the disk is full; nothing was stored.").
			WithHint("Free some space, then try again.")
	}
	return nil
}
