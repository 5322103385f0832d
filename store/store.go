package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"glidepath/app"

	"github.com/adrg/xdg"
	_ "modernc.org/sqlite" // the driver
)

// Store is an app.Store in an SQLite file. It is safe for use by several
// goroutines, and several processes may have the file open.
//
// A Read or a Write must not be started inside the function of a Write on the
// same Store in memory, nor a Write inside that of a Write on any: it would
// wait for itself until its context ends.
type Store struct {
	path   string // empty in memory
	writer *sql.DB
	reader *sql.DB // the writer itself in memory

	// own is how many of the transactions that the file counts were ours.
	own int64
	// scrub is set while the write-ahead log may still hold pages of an athlete
	// who was removed. Only the goroutine that has the writer's one connection
	// touches these two.
	scrub bool
}

var _ app.Store = (*Store)(nil)

// busyTimeout is how long a statement waits for another process to finish
// writing before it is a Conflict.
const busyTimeout = 5 * time.Second

// DefaultPath is where the data file is when nobody says otherwise:
// glidepath/glidepath.db in the user's data directory (XDG Base Directory
// Specification, and its counterparts on other systems).
func DefaultPath() string {
	return filepath.Join(xdg.DataHome, "glidepath", "glidepath.db")
}

// Open opens the data file at path, makes it if it is missing, and brings its
// schema up to date. The file and its companions are readable by their owner
// only (mode 0600), as is a directory made for it (0700); an existing
// directory is left as it is.
//
// A file that is not a Glidepath data file, is damaged, or was written by a
// newer version is a fault of kind Invalid; one that another process holds
// locked is a Conflict.
func Open(ctx context.Context, path string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if err := prepareFile(path); err != nil {
		return nil, explain(err, path)
	}
	// SQLite does not wait for a process that is just putting the file into WAL
	// mode or making its tables, so the wait is made here.
	pause := time.NewTicker(busyTimeout / 100)
	defer pause.Stop()
	for start := time.Now(); ; {
		s := &Store{path: path}
		if err = s.connect(ctx); err == nil {
			return s, nil
		}
		if err = errors.Join(err, s.Close()); !isBusy(err) || time.Since(start) > busyTimeout {
			return nil, explain(err, path)
		}
		select {
		case <-pause.C:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// OpenMemory makes an empty Store that lives in memory until it is closed. It
// has one connection, so that everything waits its turn; it is for tests.
func OpenMemory(ctx context.Context) (*Store, error) {
	db, err := sql.Open("sqlite", dataSource(":memory:", url.Values{"_txlock": {"immediate"}}))
	if err != nil {
		return nil, err
	}
	keepOne(db)
	s := &Store{writer: db, reader: db}
	if err := migrate(ctx, db, ""); err != nil {
		return nil, explain(errors.Join(err, s.Close()), "")
	}
	return s, nil
}

// connect opens both sides. The writer comes first and on its own: only when
// the file is known to be ours may it be put into WAL mode and migrated.
func (s *Store) connect(ctx context.Context) (err error) {
	if err := checkOwner(ctx, s.path); err != nil {
		return err
	}
	uri := fileURI(s.path)
	s.writer, err = sql.Open("sqlite", dataSource(uri, url.Values{
		"_txlock":       {"immediate"}, // a lock taken late can fail half way
		"_journal_mode": {"WAL"},
		"_synchronous":  {"NORMAL"},
		"_pragma":       {"secure_delete(on)", "cache_size(-16000)"},
	}))
	if err != nil {
		return err
	}
	keepOne(s.writer)
	if err := migrate(ctx, s.writer, s.path); err != nil {
		return err
	}
	s.reader, err = sql.Open("sqlite", dataSource(uri, url.Values{"_query_only": {"on"}}))
	if err != nil {
		return err
	}
	n := max(4, runtime.GOMAXPROCS(0))
	s.reader.SetMaxOpenConns(n)
	s.reader.SetMaxIdleConns(n)
	return s.reader.PingContext(ctx)
}

func keepOne(db *sql.DB) {
	db.SetMaxOpenConns(1)
	db.SetMaxIdleConns(1)
}

// dataSource adds what every connection wants to a database's name.
func dataSource(name string, more url.Values) string {
	q := url.Values{
		"_busy_timeout": {fmt.Sprint(busyTimeout.Milliseconds())},
		"_foreign_keys": {"on"},
		"_defensive":    {"1"},
		"_dqs":          {"0"}, // "x" is never silently the string 'x'
		"_error_rc":     {"1"},
		// Temporary files would lie about outside the data file's protection.
		"_pragma": {"temp_store(memory)", "trusted_schema(off)"},
	}
	for k, v := range more {
		q[k] = append(q[k], v...)
	}
	return name + "?" + q.Encode()
}

// fileURI names a file as SQLite reads it, whatever characters its path has.
func fileURI(path string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // a drive letter
	}
	return (&url.URL{Scheme: "file", OmitHost: true, Path: p}).String()
}

// Path is the data file's absolute path, empty for a Store in memory.
func (s *Store) Path() string { return s.path }

// Close waits for what runs, folds the write-ahead log into the file and
// closes it.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.reader, s.writer} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	return errors.Join(errs...)
}

// Read runs fn on one consistent snapshot. A method of the Tx that would write
// is an error.
func (s *Store) Read(ctx context.Context, fn func(app.Tx) error) error {
	return s.run(ctx, s.reader, fn, false)
}

// Write runs fn in a transaction that is kept only when fn returns nil; a panic
// in fn undoes it too.
func (s *Store) Write(ctx context.Context, fn func(app.Tx) error) error {
	return s.run(ctx, s.writer, fn, true)
}

func (s *Store) run(ctx context.Context, db *sql.DB, fn func(app.Tx) error, write bool) (err error) {
	defer func() { err = explain(err, s.path) }()
	conn, err := db.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { // also when fn panics
		if closeErr := conn.Close(); err == nil {
			err = closeErr
		}
	}()
	if err := s.transact(ctx, conn, fn, write); err != nil {
		return err
	}
	if write && s.scrub {
		s.scrubLog(ctx, conn)
	}
	return nil
}

// transact runs fn in a transaction on conn, and notes whether it is counted, and
// whether an athlete was removed for good.
func (s *Store) transact(ctx context.Context, conn *sql.Conn, fn func(app.Tx) error, write bool) (err error) {
	sqlTx, err := conn.BeginTx(ctx, &sql.TxOptions{ReadOnly: !write})
	if err != nil {
		return err
	}
	defer func() {
		// Undoes what a failed or panicking fn did; after a commit it does nothing.
		_ = sqlTx.Rollback()
		if errors.Is(err, sql.ErrTxDone) && ctx.Err() != nil {
			err = ctx.Err() // the transaction ended with its context
		}
	}()
	t := newTx(ctx, sqlTx, write)
	if err := fn(t); err != nil {
		return err
	}
	counted := t.changed && !t.ofDesk
	if counted {
		if err := t.exec(`UPDATE changes SET n = n + 1`); err != nil {
			return err
		}
	}
	if err := sqlTx.Commit(); err != nil {
		return err
	}
	if counted {
		s.own++
	}
	if t.removed {
		s.scrub = true
	}
	return nil
}

// scrubLog empties the write-ahead log, which holds pages as they were before
// an athlete was removed. The removal itself stands whatever happens here: a
// reader that still needs the log only puts it off to the next write or to
// Close.
func (s *Store) scrubLog(ctx context.Context, conn *sql.Conn) {
	var busy, pages, moved int
	err := conn.QueryRowContext(context.WithoutCancel(ctx), `PRAGMA wal_checkpoint(TRUNCATE)`).
		Scan(&busy, &pages, &moved)
	s.scrub = err != nil || busy != 0
}

// size is the length of the data file and its log, bytes.
func (s *Store) size() int64 {
	var sum int64
	for _, suffix := range companions {
		if info, err := os.Stat(s.path + suffix); s.path != "" && err == nil {
			sum += info.Size()
		}
	}
	return sum
}
